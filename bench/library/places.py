"""Where the data lies: the species shipped with the program, and the user's own folder."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path

NAME = "tenthmark"
OVERRIDE = "TENTHMARK_HOME"


def shipped_folder() -> Path:
    """The folder of the shipped species files, in an installed copy or in a checkout."""
    here = Path(__file__).resolve().parent
    installed = here / "species"
    return installed if installed.is_dir() else here.parents[1] / "species"


def user_data_folder(
    environment: Mapping[str, str] = os.environ, platform: str = sys.platform, home: Path | None = None
) -> Path:
    """The user's own data folder; it need not exist.

    Args:
        environment: variables; TENTHMARK_HOME overrides everything else.
        platform: as `sys.platform` names it.
        home: the user's home folder, by default the one of this account.
    Returns:
        The folder for this program's data.
    Source:
        XDG Base Directory Specification 0.8 for Linux; custom of the platform elsewhere.
    """
    if chosen := environment.get(OVERRIDE):
        return Path(chosen).expanduser()
    home = home or Path.home()
    if platform == "win32":
        return Path(environment.get("LOCALAPPDATA") or home / "AppData" / "Local") / NAME
    if platform == "darwin":
        return home / "Library" / "Application Support" / NAME
    data = Path(environment.get("XDG_DATA_HOME", ""))
    # The specification says to ignore a relative path.
    return (data if data.is_absolute() else home / ".local" / "share") / NAME
