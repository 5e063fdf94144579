"""One example of every verb, as it is typed, and a wood of the user's own; all invented."""

import json
from pathlib import Path

import pytest

from bench.__main__ import main

FLOAT = ("float", "--species", "sitka_spruce", "--side", "1/2", "--mark", "4.5", "--moisture", "12")
WEIGH = (
    *("weigh", "--species", "sitka_spruce", "--mass", "9 g", "--size", "1/2 x 1/2 x 5"),
    *("--moisture", "12"),
)
SECTION = ("section", "--plan", "sitka_spruce", "--use", "white_ash", "--size", "3/4", "--match", "weight")
AIR = ("moisture", "--temperature", "20 C", "--humidity", "50")
DRYING = ("moisture", "--wet", "48.3 g", "--dry", "43.1 g")
MOVEMENT = (
    *("moisture", "--species", "white_ash", "--size", "6 in", "--ring", "radial"),
    *("--from", "12", "--to", "7"),
)
ANSWERED = {
    "float": FLOAT,
    "weigh": WEIGH,
    "section": SECTION,
    "air": AIR,
    "drying": DRYING,
    "movement": MOVEMENT,
    "list": ("species",),
    "one species": ("species", "white_ash"),
}

INVENTED_WOOD = """\
key = "{key}"
name = "invented wood"
kind = "softwood"

[[figure]]
quantity = "specific_gravity"
value = "0.46"
unit = "-"
at = "12 %"
volume = "12 %"
source = "wh282"
page = "3"
"""


def own_file(home: Path, key: str, text: str) -> None:
    (home / "species").mkdir(parents=True, exist_ok=True)
    (home / "species" / f"{key}.toml").write_text(text.replace("{key}", key))


def answered_or_refused(capsys: pytest.CaptureFixture[str], *words: str) -> None:
    """The verb answers in JSON, or refuses in one line, whatever the words are."""
    status = main([*words, "--json"])
    out, err = capsys.readouterr()
    assert status in (0, 2), err
    if status == 0:
        json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in JSON"))
        assert err == ""
    else:
        assert out == ""
        assert err.startswith("tenthmark: ") and err.count("\n") == 1
