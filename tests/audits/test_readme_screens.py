"""The README's screens are what the program shows of its invented job, character for character."""

import pytest

from bench.core.records import Species
from tests.tools.readme_screens import KEYS, README, printed, shown

SCREENS = printed(README.read_text(encoding="utf-8"))


def test_every_screen_is_come_to() -> None:
    assert len(SCREENS) == len(KEYS)


@pytest.mark.parametrize("number", range(len(KEYS)), ids=list(KEYS))
async def test_a_screen_is_what_the_program_shows(woods: dict[str, Species], number: int) -> None:
    assert SCREENS[number] == await shown(list(KEYS.values())[number], woods)
