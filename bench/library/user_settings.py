"""What is the user's own and not the job's: look of the screen, keys, what is typed for what.

One small TOML file in the data folder, read once at the start. A fault in it is named with its line and
leaves only that one setting at its default. One setting at a time is written, in place: the rest of the file,
with the user's comments and order, stays as it is.
"""

import contextlib
import os
import re
from collections.abc import Mapping
from dataclasses import field
from pathlib import Path
from types import MappingProxyType
from typing import Any

from bench.core.errors import CannotSave, FileFault
from bench.core.frozen import record
from bench.core.naming import nearest
from bench.library.parsing import NotToml, parse

FILE = "settings.toml"
# Setting -> what it may be, the default first.
CHOICES = MappingProxyType({"theme": ("dark", "light", "contrast"), "characters": ("auto", "boxes", "plain")})
TABLES = ("keys", "typing")
# What a character may be typed for: all that lengths, slopes and decimals are written with.
TYPED_FOR = ("/", "-", ".", "'", '"', ":", "%", "x")


@record
class UserSettings:
    """The file as read; what it does not say is at its default."""

    theme: str = "dark"
    characters: str = "auto"
    typing: Mapping[str, str] = field(default_factory=dict)  # character -> what it stands for
    keys: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # action -> keys as written
    lines: Mapping[str, int | None] = field(default_factory=dict)  # action -> line in the file
    faults: tuple[FileFault, ...] = ()

    def key_fault(self, path: Path, action: str, reason: str) -> FileFault:
        """That a key cannot be taken, at its line."""
        return FileFault(str(path), reason, self.lines.get(action), action)


def load_settings(path: Path) -> UserSettings:
    """Read the user's settings.

    Args:
        path: of the file; it need not exist.
    Returns:
        The settings, with every fault found in them; never raises.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
        found = parse(text)
    except FileNotFoundError:
        return UserSettings()
    except NotToml as wrong:
        reason = f"{wrong.reason}; nothing of this file is used until that is mended"
        return UserSettings(faults=(FileFault(str(path), reason, wrong.line),))
    except UnicodeDecodeError:
        return UserSettings(faults=(FileFault(str(path), "not UTF-8 text; save it as UTF-8"),))
    except OSError as error:
        return UserSettings(faults=(FileFault(str(path), f"cannot be read: {error.strerror or error}"),))
    return _taken(str(path), text, found)


def _taken(path: str, text: str, found: Mapping[str, Any]) -> UserSettings:
    faults: list[FileFault] = []

    def fault(reason: str, name: str, table: str = "") -> None:
        faults.append(FileFault(path, reason, _line_of(text, name, table), name))

    chosen = {name: allowed[0] for name, allowed in CHOICES.items()}
    for name, value in found.items():
        if name in CHOICES and value in CHOICES[name]:
            chosen[name] = value
        elif name in CHOICES:
            fault(f"{value!r} is not one of {', '.join(CHOICES[name])}", name)
        elif name not in TABLES:
            near = ", ".join(nearest(name, (*CHOICES, *TABLES))) or ", ".join((*CHOICES, *TABLES))
            fault(f"there is no such setting; nearest: {near}", name)
        elif not isinstance(value, dict):
            fault(f"a table is wanted, under [{name}]", name)
    typing = {}
    for char, value in _table(found, "typing").items():
        if len(char) == 1 and not (char.isalnum() or char.isspace()) and value in TYPED_FOR:
            typing[char] = value
        elif len(char) != 1 or char.isalnum() or char.isspace():
            fault('one sign is wanted on the left, no letter or figure, as in ";" = "/"', char, "typing")
        else:
            fault(f"{value!r} is not one of {' '.join(TYPED_FOR)}", char, "typing")
    keys, lines = {}, {}
    for name, value in _flat(_table(found, "keys")).items():
        written = [value] if isinstance(value, str) else value
        if not isinstance(written, list) or not all(isinstance(key, str) for key in written):
            fault('a key in quotes is wanted, or several: ["g", "f5"]', name, "keys")
            continue
        keys[name], lines[name] = tuple(written), _line_of(text, name, "keys")
    return UserSettings(
        theme=chosen["theme"],
        characters=chosen["characters"],
        typing=typing,
        keys=keys,
        lines=lines,
        faults=tuple(faults),
    )


def _table(found: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    table = found.get(name, {})
    return table if isinstance(table, dict) else {}


def _flat(table: Mapping[str, Any]) -> dict[str, Any]:
    """`go.float = "f"` is read as a table in a table; quoted, it is one name."""
    flat: dict[str, Any] = {}
    for name, value in table.items():
        inner = _flat(value) if isinstance(value, dict) else None
        flat |= {name: value} if inner is None else {f"{name}.{more}": each for more, each in inner.items()}
    return flat


def _line_of(text: str, name: str, table: str = "") -> int | None:
    """The line that sets a name, in a table or before the first; None where it cannot be told."""
    inside = ""
    for count, line in enumerate(text.splitlines(), 1):
        heading = re.match(r"\s*\[+\s*([^\]]+?)\s*\]", line)
        if heading and "=" not in line.split("]")[0]:
            inside = heading[1].strip("\"'")
            if not table and inside == name:
                return count
            continue
        key, sets, _ = line.partition(" =") if " =" in line else line.partition("=")
        full = re.sub(r"[\"'\s]", "", key) if len(name) > 1 else key.strip().strip("\"'")
        if sets and (f"{inside}.{full}" if inside else full) == (f"{table}.{name}" if table else name):
            return count
    return None


def keep_setting(path: Path, name: str, value: str) -> None:
    """Write one setting of `CHOICES`, the rest of the file untouched.

    Args:
        path: of the file, made if it is not there.
        name: of the setting.
        value: what it shall be.
    Raises:
        CannotSave: the file cannot be written, or what is in it cannot be read.
    """
    setting = f'{name} = "{value}"'
    try:
        text = path.read_text(encoding="utf-8-sig") if path.exists() else ""
        parse(text)
        lines = text.splitlines()
        at = _line_of(text, name)
        if at is not None:
            lines[at - 1] = setting
        else:
            first = next((n for n, line in enumerate(lines) if line.lstrip().startswith("[")), len(lines))
            lines[first:first] = [setting, ""] if first < len(lines) else [setting]
        whole = "\n".join(lines) + "\n"
        parse(whole)
        _write(path, whole)
    except NotToml as wrong:
        raise CannotSave(str(path), f"is not changed: {wrong.reason}", wrong.line) from wrong
    except (OSError, UnicodeDecodeError) as problem:
        why = getattr(problem, "strerror", None) or "not UTF-8 text"
        raise CannotSave(str(path), f"cannot be written ({why})") from problem


def _write(path: Path, text: str) -> None:
    """Whole or not at all; a link is followed."""
    path.parent.mkdir(parents=True, exist_ok=True)
    place = path.resolve()
    draft = place.with_name(f"{place.name}.{os.getpid()}")
    try:
        draft.write_text(text, encoding="utf-8")
        draft.replace(place)
    except OSError:
        with contextlib.suppress(OSError):
            draft.unlink()
        raise
