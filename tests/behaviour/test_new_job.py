"""What a new job begins with: sizes round in its unit, clear of defects; older records stay as they were."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from bench import launch
from bench.core import breaks, codec, starting
from bench.core.coupon import DROP, NOTHING, Blow, Coupon
from bench.core.edits import StartJob
from bench.core.history import EMPTY
from bench.core.records import SectionChoice, Settings, Species, Stick, Typed, inches
from bench.ui.float_draft import start

HALF_INCH = Fraction(127, 10_000)


def lengths_of(record: object) -> list[Typed]:
    return [value for name in record.__slots__ if isinstance(value := getattr(record, name), Typed)]


def test_a_millimetre_job_has_no_inch_in_it() -> None:
    begun = (*lengths_of(starting.habits("mm")), *lengths_of(starting.section("mm")))
    assert len(begun) == 11
    for typed in begun:
        assert typed.text.endswith(" mm") and (typed.exact * 10_000).denominator == 1, typed
    assert starting.section("mm").width.text == starting.section("mm").depth.text == "20 mm"


def test_an_inch_job_has_no_millimetre_in_it() -> None:
    begun = (*lengths_of(starting.habits("in")), *lengths_of(starting.section("in")))
    assert len(begun) == 11 and all(typed.text.endswith(" in") for typed in begun)
    assert starting.section("in").width.text == "3/4 in"


@pytest.mark.parametrize(("units", "text"), [("in", "1/2 in"), ("mm", "12 mm")])
def test_a_new_job_keeps_clear_of_a_defect(units: str, text: str) -> None:
    margin = starting.habits(units).margin
    assert margin.text == text and Fraction(12, 1000) <= margin.exact <= HALF_INCH


def test_a_job_of_before_is_read_as_it_was() -> None:
    """A record of before holds no section and perhaps no settings: both stay what they were."""
    old = codec.from_plain(StartJob, {"name": "Wing"})
    job = EMPTY.accept(old).job
    assert job.settings == Settings() and job.settings.margin.exact == 0
    assert job.section == SectionChoice() and job.section.width == inches("3/4")


def test_a_metric_job_is_begun_and_opened_again(tmp_path: Path, woods: dict[str, Species]) -> None:
    desk = launch.Desk(tmp_path, None)
    history, _ = desk.start("Wing", "mm")
    desk.close()
    path = desk.path
    assert path is not None
    again = launch.Desk(tmp_path, None)
    job = again.open(path)[0].job
    again.close()
    assert job == history.job
    assert (job.section.width.text, job.settings.margin.text, job.settings.grid.text) == (
        "20 mm",
        "12 mm",
        "0.5 mm",
    )


def test_a_first_reading_and_a_first_blow_are_in_the_unit_of_the_job() -> None:
    stick = Stick("S-1", "sitka_spruce", inches("60"), inches("1"), inches("1"))
    assert [(start(stick, unit).side.text, start(stick, unit).length.text) for unit in ("in", "mm")] == [
        ("1/2 in", "5 in"),
        ("12 mm", "120 mm"),
    ]
    free = Coupon("D-1", DROP, inches("1/2"), inches("1/2"))
    assert [breaks.next_height(free, unit).text for unit in ("in", "mm")] == ["1 in", "25 mm"]
    struck = replace(free, blows=(Blow(breaks.next_height(free, "mm"), NOTHING),))
    assert breaks.next_height(struck, "mm").text == "50 mm"
