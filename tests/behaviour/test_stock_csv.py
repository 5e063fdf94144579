"""The rack as a table: written and read back, and every fault with its line and column."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench import units
from bench.core.demo import entries
from bench.core.edits import PutSticks, StartJob, TakeOvenTest
from bench.core.history import EMPTY
from bench.core.records import (
    FloatReading,
    Inspection,
    Job,
    OvenTest,
    Species,
    Stick,
    TimedMark,
    Typed,
    Weighing,
)
from bench.sheets import defects, stock_csv
from bench.sheets.stock_csv import Sheet
from tests.tools.tables import LENGTHS, WORDS, told, typed

HEAD = "tag,wood,length,width,depth\n"
GOOD = "A-1,white ash,60,7/8,7/8\n"
FLOATED = "marks,float side,float length,float moisture,bath"


def more(columns: str, cells: str) -> str:
    """A sound line with more columns."""
    return f"{HEAD.strip()},{columns}\n{GOOD.strip()},{cells}\n"


def read(text: str, woods: dict[str, Species], taken: tuple[str, ...] = (), unit: str = "in") -> Sheet:
    return stock_csv.read(text, woods, taken, unit)


ASH = {"white_ash": Species("white_ash", "white ash", "hardwood", ())}


SIZES = typed("length", "7/8", "1-1/8", "1 1/4", ".407", "19 mm", "2' 6\"", "½")
# The last as an oven test leaves it: the text is rounded, the number is not.
MOISTURES = typed("moisture", "9.5", "12 %", "8") | st.just(Typed(Fraction(52, 431), "12.06 %"))
SLOPES = st.none() | typed("slope", "15", "1:12", "1 in 20", "straight")
DEFECTS = st.sampled_from(
    ("", "3-4 knot 1/4 deep 1/8 edge 3/16; 31-32", "0-2 split", "5 pitch pocket .06")
).map(lambda text: defects.read_all(text, "in"))
INSPECTIONS = st.builds(
    Inspection,
    rings=st.none() | typed("rings", "8", "4 in 1/2", "6 over 20 mm"),
    slope_one=SLOPES,
    slope_two=SLOPES,
    edge_grain=st.none() | typed("share", "67 %", "100"),
    bow=st.none() | typed("length", "1/16", "2 mm"),
    bow_over=st.none() | typed("length", "30", "0.5 m"),
    looked=st.booleans(),
)
DAYS = st.sampled_from(("", "2026-03-14", "2026-03-21"))
READINGS = st.builds(
    FloatReading,
    marks=st.lists(st.floats(3, 8), min_size=1, max_size=2).map(tuple),
    side=typed("length", "1/2", "12 mm"),
    length=typed("length", "5", "130 mm"),
    moisture=MOISTURES,
    water=typed("temperature", "20 C", "68 F"),
    angle=st.sampled_from(("", "none", "60")),
    seconds=st.sampled_from((30.0, 12.5)),
    count=st.sampled_from((10, 20)),
    taken=DAYS,
    timed=st.sampled_from(((), (TimedMark(60.0, 4.3),), (TimedMark(31.25, 4.305), TimedMark(300.0, 4.4)))),
    aside=WORDS.map(lambda text: text[:200].strip()),
)
WEIGHINGS = st.builds(
    Weighing,
    mass=typed("mass", "9.84 g", "0.3 oz", "0.022 lb"),
    width=typed("length", "1/2", "12.7 mm"),
    depth=typed("length", "1/2", "12.7 mm"),
    length=typed("length", "5", "0' 5\""),
    moisture=MOISTURES,
    taken=DAYS,
)
OVENS = st.builds(
    OvenTest,
    wet=typed("mass", "48.3 g", "1.7 oz"),
    dry=typed("mass", "43.1 g", "1.5 oz"),
    taken=DAYS,
)
STICKS = st.builds(
    Stick,
    tag=st.from_regex(r"\A[A-Za-z]{1,3}-[0-9]{1,3}\Z"),
    species=st.just("white_ash"),
    length=LENGTHS,
    width=SIZES,
    depth=SIZES,
    moisture=st.none() | MOISTURES,
    lot=WORDS.map(lambda text: text[:40].strip()),
    defects=DEFECTS,
    readings=st.lists(READINGS, max_size=4).map(tuple),
    weighings=st.lists(WEIGHINGS, max_size=2).map(tuple),
    ovens=st.lists(OVENS, max_size=3).map(tuple),
    note=WORDS.map(lambda text: text[:40].strip()),
    inspection=INSPECTIONS,
    parent=st.sampled_from(("", "P-1")),
)


def _rough(stick: Stick, sides: set[str]) -> Stick:
    """As it came off the rip saw on these sides."""
    return replace(stick, **{f"sawn_{side}": getattr(stick, side).exact for side in sides})


ROUGH = st.builds(_rough, STICKS, st.sets(st.sampled_from(("width", "depth"))))


@given(
    st.lists(ROUGH, min_size=1, max_size=4, unique_by=lambda stick: stick.tag.casefold()),
    st.sampled_from(("in", "mm")),
)
def test_what_is_written_is_read_back_to_the_letter(sticks: list[Stick], unit: str) -> None:
    sheet = read(stock_csv.write(sticks), ASH, unit=unit)
    assert told(sheet) == []
    assert list(sheet.sticks) == sticks
    job = StartJob("Tansy").apply(Job(""))
    assert PutSticks(sheet.sticks).apply(job).sticks == tuple(sticks)


def test_the_invented_job_comes_through_whole(woods: dict[str, Species]) -> None:
    history = EMPTY
    for edit in entries(woods):
        history = history.accept(edit)
    sheet = read(stock_csv.write(history.job.sticks), woods)
    assert told(sheet) == []
    assert sheet.sticks == history.job.sticks
    assert any(len(stick.readings) > 1 and stick.readings[-1].timed for stick in sheet.sticks)


def test_a_moisture_by_the_oven_stays_exact_and_can_be_read(woods: dict[str, Species]) -> None:
    """(48.3 - 43.1) / 43.1 = 52/431 = 12.0650 %."""
    job = PutSticks(read(HEAD + GOOD, woods).sticks).apply(StartJob("Tansy").apply(Job("")))
    test = OvenTest(units.read("mass", "48.3 g"), units.read("mass", "43.1 g"), "2026-03-14")
    (dried,) = TakeOvenTest("A-1", test).apply(job).sticks
    text = stock_csv.write([dried])
    assert "12.06 % = 52/431" in text
    assert read(text, woods).sticks == (dried,)


FURTHER = f"tag,wood,length,width,depth,{FLOATED},later,taken,set aside,weighed,oven wet,oven dry\n"
FLOAT = "A-1,white ash,60,1,1,6.8,1/2,5,9.5,20 C"
AGAIN = "A-1,,,,,6.9,1/2,5,9.5,20 C"


def test_further_measurements_stand_in_rows_below_with_the_tag_alone(woods: dict[str, Species]) -> None:
    text = (
        FURTHER
        + f"{FLOAT},60 s 6.85; 5 min 6.95,2026-03-14,slipped,,,\n"
        + "A-2,white ash,60,1,1,,,,,,,,,,48.3 g,43.1\n"
        + f"{AGAIN.lower()},60 = 6 15/16,2026-03-21,,,,\n"
    )
    sheet = read(text, woods)
    assert told(sheet) == []
    first, second = sheet.sticks
    assert [reading.marks for reading in first.readings] == [(6.8,), (6.9,)]
    assert first.readings[0].timed == (TimedMark(60.0, 6.85), TimedMark(300.0, 6.95))
    assert first.readings[1].timed == (TimedMark(60.0, 6.9375),)
    assert [reading.aside for reading in first.readings] == ["slipped", ""]
    assert [reading.taken for reading in first.counted] == ["2026-03-21"]
    assert second.ovens[0].dry == Typed(Fraction(431, 10_000), "43.1 g")


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("A-1,,,,,11,1/2,5,9.5,20 C", "line 3, marks: 11.0 is not possible here"),
        ("A-1,,,,,6.8,1/2,5,9.5,20 C,60", "line 3, later: '60' is not possible here; pairs like 60 s 4.30"),
        ("A-1,,,,,6.8,1/2,5,9.5,20 C,60 s x", "line 3, later: 'x' has no number in it"),
        ("A-1,,,,,6.8,1/2,5,9.5,20 C,20 s 6.9", "line 3, later: 20"),
        (
            "A-1,,60,,,6.8,1/2,5,9.5,20 C",
            "line 3, length: this goes into the row of the stick itself, line 2",
        ),
        ("A-1,,,,", "line 3: a reading, weighing or oven test of line 2 is wanted here"),
        ("A-1,,,,,,,,,,60 s 6.9", "line 3, later: a reading wants its marks"),
        (f"A-1,,,,,6.8,1/2,5,9.5,20 C,,,{'x' * 201}", "line 3, set aside: xxxxxxxxxxxx... is not possible"),
        ("A-1,,,,,,,,,,,,,9.8 g", "line 3, weighed width: '' is empty"),
        ("A-1,,,,,,,,,,,,,,43 g,48 g", "line 3, oven wet: "),
        ("A-1,,,,,,,,,,,,,,48 g,4 g", "line 3, oven wet: 48 g is not possible here; 0 to 200 %"),
        ("A-1,,,,,,,,,,,,,,,43 g", "line 3, oven dry: an oven test wants the mass as found"),
        ("A-1,,,,,6.8,1/2,5,9.5 % = 95/999,20 C", "line 3, float moisture: '95/999' is not possible here"),
        ("A-1,,,,,6.8,1/2,5,9.5 % = 1/0,20 C", "line 3, float moisture: '1/0' is not possible here"),
        ("A-1,white ash,60,1,1", "line 3, tag: 'A-1' is taken, line 2 has it"),
        ("S-9,,,,,6.8,1/2,5,9.5,20 C", "line 3, tag: 'S-9' is taken, the job has it"),
    ],
)
def test_a_fault_in_a_further_row_has_its_own_line_and_holds_the_stick_back(
    woods: dict[str, Species], row: str, fault: str
) -> None:
    columns = FURTHER.strip() + ",weighed width\n"
    sheet = read(f"{columns}{FLOAT}\n{row}\nA-2,white ash,60,1,1\n", woods, ("S-9",))
    assert [line for line in told(sheet) if line.startswith(fault)], told(sheet)
    own = row.startswith("A-1,,")
    assert [stick.tag for stick in sheet.sticks] == (["A-2"] if own else ["A-1", "A-2"])


def test_columns_in_any_order_with_an_inch_mark_in_a_bare_cell(woods: dict[str, Species]) -> None:
    head = "Depth,WIDTH,note,tag,length,wood,slope_one\n"
    row = '7/8",7/8,"bright, from the loft",A-1,6\' 2",sitka_spruce,1:15\n'
    (stick,) = read(head + row, woods).sticks
    assert (stick.tag, stick.species, stick.note) == ("A-1", "sitka_spruce", "bright, from the loft")
    assert stick.length.exact == 74 * Fraction(254, 10_000)
    assert stick.depth.text == '7/8"'
    assert stick.inspection.slope_one.exact == Fraction(1, 15)


@pytest.mark.parametrize("sign", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_every_sign_between_cells_and_every_end_of_line(
    woods: dict[str, Species], sign: str, end: str, mark: str
) -> None:
    text = mark + ("\n" + HEAD + "\n\n" + GOOD + ",,,,\n").replace(",", sign).replace("\n", end)
    sheet = read(text, woods)
    assert told(sheet) == []
    assert [stick.tag for stick in sheet.sticks] == ["A-1"]


def test_a_decimal_comma_is_read_where_it_is_one_and_refused_where_it_may_part_thousands(
    woods: dict[str, Species],
) -> None:
    head = HEAD.replace(",", ";")
    (stick,) = read(head + "A-1;white ash;1800 mm;22,5 mm;22,5\n", woods, unit="mm").sticks
    assert stick.width.exact == stick.depth.exact == Fraction(225, 10_000)
    sheet = read(head + "A-1;white ash;1,800;22,5;22,5\n", woods, unit="mm")
    assert told(sheet) == ["line 2, length: '1,800' may mean 1800 or 1.800; 1800 or 1.800 would be read"]


def test_bare_sizes_take_the_unit_of_the_shop(woods: dict[str, Species]) -> None:
    (stick,) = read(HEAD + "A-1,white ash,1800,22,22\n", woods, unit="mm").sticks
    assert stick.length == Typed(Fraction(18, 10), "1800 mm")


def test_a_reading_comes_along_with_its_bath(woods: dict[str, Species]) -> None:
    (stick,) = read(more(f"{FLOATED},taken", "6.85 6.75,1/2,5,9.5,68 F,2026-03-14"), woods).sticks
    assert stick.reading.marks == (6.85, 6.75)
    assert stick.reading.count == 10
    # 68 F is 20 C by definition of both scales: NIST SP 811, app. B.8.
    assert stick.reading.water.exact == Fraction(29315, 100)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "line 1: there is nothing; a heading row with tag, wood, length, width and depth is wanted"),
        (HEAD, "line 1: no stick stands below the heading row"),
        ("tag,wood,width,depth\nA-1,white ash,1,1\n", "line 1, length: this column is missing"),
        (
            HEAD.replace("depth", "depth,moistur"),
            "line 1, moistur: there is no such column; nearest: moisture",
        ),
        (HEAD.replace("depth", "depth,tag"), "line 1, tag: this column stands there twice"),
        (HEAD + "A-1,white ash,6x,7/8,7/8\n", "line 2, length: '6x' has 'x' after the number"),
        (HEAD + "A-1,white ash,60,,7/8\n", "line 2, width: '' is empty; a length like"),
        (HEAD + "A-1,white ash,60,0,7/8\n", "line 2, width: 0 in is not possible here; a size above zero"),
        (HEAD + ",white ash,60,1,1\n", "line 2, tag: not given; give a name"),
        (HEAD + "A-1,,60,1,1\n", "line 2, wood: not given"),
        (HEAD + "A-1,whit ash,60,1,1\n", "line 2, wood: 'whit ash' is not known; nearest: white_ash"),
        (HEAD + "A-1,elm,60,1,1\n", "line 2, wood: 'elm' is not known; give a species by key or name"),
        (HEAD + GOOD + GOOD, "line 3, tag: 'A-1' is taken, line 2 has it"),
        (HEAD + GOOD.replace("A-1", "s-9"), "line 2, tag: 's-9' is taken, the job has it"),
        (HEAD + GOOD.strip() + ",bright\n", "line 2: 'bright' stands under no heading"),
        (HEAD + 'A-1,white ash,60,1,"1\n', "line 2: a quote does not close"),
        (more("defects", "58-61 knot"), "line 2, defects: 58 in to 61 in on A-1 is not possible here"),
        (more("defects", "3 knit"), "line 2, defects: 'knit' is not known; nearest: knot"),
        (more("looked", "perhaps"), "line 2, looked: 'perhaps' is not possible here; yes or no"),
        (more("variant", "arctic"), "line 2, variant: 'arctic' is not known; this wood has none"),
        (more("moisture", "300"), "line 2, moisture: 300 % is not possible here"),
        (more("slope one", "1:.5"), "line 2, slope one: '1:.5' is steeper"),
        (more("bath", "20 C"), "line 2, bath: a reading wants its marks"),
        (more("marks", "6.85"), "line 2, float side: '' is empty"),
        (more(FLOATED, "11,1/2,5,9.5,20"), "line 2, marks: 11.0 is not possible here"),
        (more(FLOATED, "x,1/2,5,9.5,20"), "line 2, marks: 'x' has no number in it"),
        (more(FLOATED, "6.8,1/2,5,9.5,50"), "line 2, bath: 50.0 C is not possible here"),
        (more(FLOATED, "6.8,1/2,60,9.5,20"), "line 2, float length: "),
        (
            more(f"{FLOATED},taken", "6.8,1/2,5,9.5,20,14.3.26"),
            "line 2, taken: '14.3.26' is not possible here; a day like 2026-03-14 is wanted",
        ),
    ],
)
def test_a_fault_has_its_line_its_column_and_what_would_be_right(
    woods: dict[str, Species], text: str, fault: str
) -> None:
    sheet = read(text, woods, ("S-9",))
    assert [line for line in told(sheet) if line.startswith(fault)], told(sheet)


def test_a_defect_cannot_lie_farther_from_its_nearer_edge_than_the_middle(woods: dict[str, Species]) -> None:
    """Derived: of the larger side, 7/8 in here, the middle is 7/16 in from either edge."""
    assert told(read(more("defects", "30-31 knot edge 7/16"), woods)) == []
    (fault,) = told(read(more("defects", "30-31 knot edge 29/64"), woods))
    assert fault.startswith("line 2") and "at most half the larger side" in fault


def test_every_fault_of_a_line_is_told_and_the_good_lines_are_kept(woods: dict[str, Species]) -> None:
    text = HEAD + GOOD + "A-2,elm,6x,0,1\n" + GOOD.replace("A-1", "A-3") + "\nA-4,white ash,60,1\n"
    sheet = read(text, woods)
    assert [(fault.line, fault.column) for fault in sheet.faults] == [
        (3, "wood"),
        (3, "length"),
        (6, "depth"),
    ]
    assert [stick.tag for stick in sheet.sticks] == ["A-1", "A-3"]


def test_lines_are_counted_through_cells_of_several_lines(woods: dict[str, Species]) -> None:
    text = HEAD.strip() + ",note\n" + GOOD.strip() + ',"one\ntwo"\nA-2,white ash,x,1,1,\n'
    sheet = read(text, woods)
    assert sheet.sticks[0].note == "one two"
    assert [(fault.line, fault.column) for fault in sheet.faults] == [(4, "length")]


@given(st.text())
def test_nothing_that_is_pasted_raises(text: str) -> None:
    sheet = read(HEAD + text, ASH)
    assert sheet.sticks or sheet.faults
