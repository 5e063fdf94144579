"""The minimum line on a stick: read back it is the limit, and it is never drawn on the weak side."""

from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest
from core_cases import ASH, SPRUCE, WOODS, reading, typed, with_figure
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import acceptance, evidence, floating
from bench.core.records import Species, TimedMark
from bench.sheets import evidence as sheet
from tests.tools.any_reading import angles, faces, moistures, read

quick = settings(max_examples=40, deadline=None)


@pytest.mark.parametrize("key", sorted(WOODS))
def test_a_line_read_back_is_the_limit(key: str) -> None:
    wood, taken = WOODS[key], reading(1.0, angle="", side="0.0254")
    table = evidence.minimum_table(taken, wood)
    assert [row.moisture for row in table.rows] == [percent / 100 for percent in range(6, 17)]
    for row in table.rows:
        for mark, gravity in (
            (row.minimum, table.minimum.value if table.minimum else None),
            (row.average, table.average.gravity if table.average else None),
        ):
            assert (mark is None) == (gravity is None)
            if mark is not None:
                at = replace(taken, marks=(mark,), moisture=typed(row.moisture))
                assert read(at, wood).sg_oven_dry == pytest.approx(gravity)
    minima = [row.minimum for row in table.rows if row.minimum is not None]
    assert minima == sorted(minima)


def test_an_average_without_an_oven_dry_figure_is_brought_from_12_percent() -> None:
    """White ash 0.62 oven-dry (trade); western hemlock 0.45 at 12 % (wh282 table 5-3b), S_0 12.4 %."""
    plain = evidence.average_of(ASH)
    assert plain is not None and not plain.brought and plain.gravity == 0.62
    brought = evidence.average_of(WOODS["western_hemlock"])
    assert brought is not None and brought.brought
    assert brought.gravity == pytest.approx(0.45 * (1 - 0.124 * 0.6) / (1 - 0.124))
    assert brought.figure.volume == "12 %"
    notes = sheet.mark_notes(evidence.minimum_table(reading(4.0), WOODS["western_hemlock"]))
    assert any("ESTIMATE" in note.text and note.name == "average" for note in notes)
    assert evidence.average_of(WOODS["balsa"]) is None


def test_a_class_has_its_maximum_in_the_table() -> None:
    fir = WOODS["douglas_fir_coast"]
    table = evidence.minimum_table(reading(4.0), fir, "class L", (Fraction(12, 100),))
    (row,) = table.rows
    assert row.minimum is not None and row.maximum is not None
    for mark, limit in ((row.minimum, 0.38), (row.maximum, 0.47)):
        assert read(reading(mark, moisture="0.12"), fir).sg_oven_dry == pytest.approx(limit)
    assert [len(cells) for cells in sheet.mark_cells(table, 10)] == [4, 4]
    assert any("of the species at large" in note.text for note in sheet.mark_notes(table, "class L"))


@given(st.floats(0.01, 9.99))
def test_a_line_is_never_drawn_on_the_weak_side(mark: float) -> None:
    assert float(sheet.strict(mark, "minimum")) >= mark * (1 - 1e-6)
    assert float(sheet.strict(mark, "maximum")) <= mark * (1 + 1e-6) + 1e-9


SURE = st.sampled_from([SPRUCE, ASH, WOODS["white_spruce"]])  # of the last the shrinkage is an estimate


@quick
@given(faces, moistures, angles, SURE, st.sampled_from([0.0, 30.0, 300.0]), st.sampled_from([10, 25, 100]))
def test_from_the_sure_mark_on_one_reading_is_sure(
    sides: int, moisture: str, angle: str, wood: Species, seconds: float, count: int
) -> None:
    """Its whole band lies above the minimum there, and no longer a twentieth of a mark (of ten) lower."""
    taken = reading(*[1.0] * sides, moisture=moisture, angle=angle, seconds=seconds, count=count)
    minimum = acceptance.limit(wood, "specific_gravity_minimum")
    sure = evidence.sure_mark(taken, wood)
    assert minimum is not None and sure is not None
    shown = ceil(sure * 100) / 100
    assert read(replace(taken, marks=(shown,) * sides), wood).low >= minimum.value
    below = sure - 0.05 * count / 10
    assert read(replace(taken, marks=(below,) * sides), wood).low < minimum.value
    assert sure > floating.mark_of(minimum.value, taken, wood)


def test_the_sure_mark_looks_at_no_marks_and_may_not_be_there() -> None:
    taken = reading(4.2)
    timed = replace(taken, marks=(8.0,), timed=(TimedMark(60.0, 7.5),))
    assert evidence.sure_mark(timed, SPRUCE) == evidence.sure_mark(taken, SPRUCE)
    assert evidence.sure_mark(taken, WOODS["balsa"]) is None, "no minimum"
    heavy = with_figure(SPRUCE, "specific_gravity_minimum", "oven-dry", 1.2)
    assert evidence.sure_mark(taken, heavy) is None, "past the end of the stick"
