"""Cut lists as files for the verb `cuts`, every one invented, and the verb's answer to one."""

import json
from pathlib import Path

import pytest

from bench.__main__ import main

KEYS = {
    *("sticks_opened", "pieces_made", "scarfed"),
    *("placed", "unplaced", "unplaced_critical", "sticks_used", "fewest_possible", "optimal"),
    *("largest_offcut_in", "waste_percent", "sticks", "warnings"),
}
LIST = {
    "kerf": "1/8 in",
    "end_trim": "1/4 in",
    "margin": "1/2 in",
    "squaring": "1/16 in",
    "least_offcut": "6 in",
    "parts": [
        {"name": "spar", "length": "40 in", "quantity": 2, "section": "3/4 x 1-1/2", "critical": True},
        {"name": "rib", "length": "10 1/2", "quantity": 5, "section": "1-1/2 x 3/4"},
        {"name": "block", "length": 3, "quantity": "4"},
    ],
    "sticks": [
        {
            "tag": "A",
            "length": "96 in",
            "quantity": 2,
            "section": "3/4 x 1-1/2",
            "defects": [["30 in", "32 in"]],
        },
        {"tag": "B", "length": "5 ft", "sg": 0.41},
    ],
}


@pytest.fixture
def run(home: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path):
    """Exit status, standard output and standard error for a cut list, given as data or as text."""

    def command(listed: object, *words: str) -> tuple[int, str, str]:
        path = tmp_path / "plan.json"
        path.write_text(listed if isinstance(listed, str) else json.dumps(listed), encoding="utf-8")
        status = main(["cuts", str(path), *words])
        out, err = capsys.readouterr()
        return status, out, err.replace(str(path), "plan.json")

    return command


def one_part(part: dict | None = None, stick: dict | None = None, **rules: object) -> dict:
    """One part and one stick, with keys changed."""
    return {
        **rules,
        "parts": [{"name": "rib", "length": "10 in", **(part or {})}],
        "sticks": [{"tag": "A", "length": "96 in", **(stick or {})}],
    }


def off_its_stick(
    start: object = "0 in", end: object = "10 in", part: str = "rib", stick: str = "A", **more: str
) -> dict:
    """A stretch that is off its stick."""
    return {"part": part, "stick": stick, "from": start, "to": end, **more}
