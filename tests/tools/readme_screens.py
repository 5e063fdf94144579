"""The screens of the README: by which keys each is come to, and how they are written anew.

    python -m tests.tools.readme_screens

puts what the program shows by now in their place; look through the difference before it is kept.
"""

import asyncio
from collections.abc import Mapping
from pathlib import Path

from bench.core.demo import entries
from bench.core.records import Species
from bench.library import load
from tests.tools.driving import Notebook, lines, press, ready

README = Path(__file__).resolve().parents[2] / "README.md"
KEYS: Mapping[str, list[str]] = {  # from the first picture to each screen, in the order of the README
    "float": ["right"] * 6,
    "inspect": [*["right"] * 9, "i", "tab"],
    "stock": ["t"],
    "section": ["s", "tab", "tab", *["up"] * 3],
    "cuts": ["c"],
    "saw": ["c", "enter"],
    "groups": ["b", "v", "v", "right", "right"],
}


def printed(text: str) -> list[str]:
    """The screens as the README has them."""
    return [
        block.rstrip("\n") for block in text.split("```\n")[1::2] if block.startswith("Tansy parasol trainer")
    ]


async def shown(keys: list[str], woods: dict[str, Species]) -> str:
    """What the program shows of the invented job after these keys, at 80 x 24."""
    app = Notebook(*entries(woods)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, *keys)
        return "\n".join(lines(app)).rstrip("\n")


def write() -> None:
    """Every screen as it is by now."""
    text, woods = README.read_text(encoding="utf-8"), load().species
    for keys, old in zip(KEYS.values(), printed(text), strict=True):
        text = text.replace(old, asyncio.run(shown(keys, woods)), 1)
    README.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write()
