"""A figure at the edge of a verdict is never shown as the limit that it does not reach."""

from dataclasses import replace

import pytest
from core_cases import SPRUCE, WOODS, after, stick

from bench.core.acceptance import Verdict
from bench.core.edits import PutStick, StartJob
from bench.core.history import EMPTY
from bench.core.river import River, flow
from bench.headless import gravity as verb
from bench.sheets import acceptance_sheet, drawings, evidence, labels, wording, writing_text
from bench.ui import frame
from tests.tools.driving import Notebook, lines, picture, press, settled, until

LIMIT = SPRUCE.find("specific_gravity_minimum", volume="oven-dry")
MINIMUM = LIMIT.value  # 0.360


def river_of(mark: float) -> River:
    job = after([StartJob("Tansy"), PutStick(stick("S-1", mark, species="sitka_spruce"))], EMPTY.job)
    return flow(job, WOODS)


@pytest.fixture(scope="module")
def mark() -> float:
    """A waterline at which the gravity is a hair below the minimum: it rounds onto it."""
    low, high = 2.0, 6.0
    while True:
        middle = (low + high) / 2
        short = MINIMUM - river_of(middle).hand.verdict.value
        if 0.0001 < short < 0.0004:
            return middle
        low, high = (middle, high) if short > 0 else (low, middle)


def test_no_sheet_screen_or_verb_shows_it_as_the_limit(mark: float) -> None:
    river = river_of(mark)
    judged, verdict = river.hand, river.hand.verdict
    value, found = wording.gravity(verdict), river.hand.found
    assert f"{verdict.value:.3f}" == "0.360" == f"{MINIMUM:.3f}" and float(value) < MINIMUM
    (cells,) = (row for row in acceptance_sheet._sticks(river, WOODS).rows)
    assert cells[3] == value
    said = writing_text.write(labels.sheet(river, WOODS))
    assert f"gravity {value} (" in said
    assert f"{value} dry" in frame.float_line(river).plain
    first = evidence.sections(judged.stick, SPRUCE, found)[0].blocks[0].text
    assert first.startswith(f"specific gravity {value} +/- ")
    assert f">{value}<" in drawings.gravity(verdict)
    rows = {name: cell for name, cell, _ in verb.rows(found.measured, verdict)}
    assert rows["specific gravity oven-dry"] == value and rows["minimum"] == "0.360"


async def test_float_and_stock_show_it_below_the_limit(mark: float, woods) -> None:
    app = Notebook(StartJob("Tansy"), PutStick(stick("S-1", mark, species="sitka_spruce"))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.bench is not None and app.bench.river is not None, "the bench")
        await settled(pilot)
        value = wording.gravity(app.bench.river.hand.verdict)
        assert f"{value} +/- " in picture(app)
        assert "minimum 0.360 -0.000" in picture(app) and "0.360 0.000" not in picture(app)
        await press(pilot, "t")
        row = next(row for row in lines(app) if row.startswith("S-1") and "Sitka" in row)
        assert " 0.359 " in row and "0.360" not in row


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [
        (0.3403, 0.3596, "0.340 to 0.3596"),  # rejected: below the minimum, and shown so
        (0.3604, 0.3803, "0.3604 to 0.381"),
        (0.36, 0.38, "0.360 to 0.380"),
        (0.3503, 0.3796, "0.350 to 0.380"),
    ],
)
def test_the_edges_of_a_band_stand_apart_from_the_limit(low: float, high: float, shown: str) -> None:
    held = Verdict("hold", (), value=(low + high) / 2, low=low, high=high, minimum=LIMIT)
    assert wording.band(held) == shown


def test_a_gravity_keeps_its_side_of_both_limits_in_three_decimals() -> None:
    top = replace(LIMIT, value=0.5)
    held = Verdict("hold", (), value=0.5002, low=0.49, high=0.51, minimum=LIMIT, maximum=top)
    assert (wording.gravity(held), wording.gravity_short(held)) == ("0.5002", "0.501")
    below = replace(held, value=0.3598)
    assert (wording.gravity(below), wording.gravity_short(below)) == ("0.3598", "0.359")
    at = replace(held, value=0.36)
    assert wording.gravity(at) == wording.gravity_short(at) == "0.360"
    assert wording.gravity(Verdict("hold", ())) == wording.band(Verdict("hold", ())) == "--"
