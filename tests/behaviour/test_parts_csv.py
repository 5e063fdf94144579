"""The list of parts as a table: written and read back, and every fault with its line and column."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.core import edits
from bench.core.coupon import Blow, Coupon, LoadPoint
from bench.core.demo import entries
from bench.core.edits import PutParts, StartJob
from bench.core.history import EMPTY
from bench.core.limits import USES
from bench.core.records import (
    Job,
    Laid,
    Offer,
    Part,
    Scarfed,
    Species,
    Spoilt,
    Stretch,
    Typed,
    inches,
)
from bench.sheets import parts_cells, parts_csv, telling
from bench.sheets.parts_csv import Sheet
from tests.tools.tables import LENGTHS, told, typed
from tests.tools.tables import WORDS as ANY_WORDS

HEAD = "part,length,width,depth\n"
GOOD = "cap,60,3/4,3/4\n"
INCH = Fraction(254, 10_000)


def more(columns: str, cells: str) -> str:
    """A sound line with more columns."""
    return f"{HEAD.strip()},{columns}\n{GOOD.strip()},{cells}\n"


def read(text: str, woods: dict[str, Species], taken: tuple[str, ...] = (), unit: str = "in") -> Sheet:
    return parts_csv.read(text, woods, taken, unit)


SPRUCE = Species("sitka_spruce", "Sitka spruce", "softwood", ())
WOODS = {"sitka_spruce": SPRUCE, "white_ash": Species("white_ash", "white ash", "hardwood", ())}


SIZES = typed("length", "7/8", "1-1/8", "1 1/4", ".407", "19 mm", "½") | st.fractions(
    Fraction(1, 100), Fraction(1, 20), max_denominator=999
).map(lambda metres: Typed(metres, f"{float(metres / INCH):.3f} in"))
WORDS = ANY_WORDS.map(lambda text: text[:40].strip())
NAMES = WORDS.filter(bool)
STRETCHES = st.sampled_from(("", "0-12", "0-2; 30 1/2-31", "1'-2'", "100-200 mm, 8-9", "2 to 2' 6\"")).map(
    lambda text: parts_cells.read_stretches(text, "in")
)
JOINTS = st.tuples(typed("scarf", "12", "1:15", "1 in 10.5"), st.sampled_from(("", "width", "depth")))


@st.composite
def parts(draw: st.DrawFn) -> Part:
    scarf, side = draw(st.just((None, "")) | JOINTS)
    return Part(
        name=draw(NAMES),
        length=draw(LENGTHS),
        width=draw(SIZES),
        depth=draw(SIZES),
        quantity=draw(st.integers(0, 2000)),
        species=draw(st.sampled_from(sorted(WOODS))),
        critical=draw(st.booleans()),
        minimum_sg=draw(st.none() | typed("gravity", "0.36", ".4", "3/8")),
        note=draw(WORDS),
        use=draw(st.sampled_from(USES)),
        group=draw(WORDS),
        grain=draw(WORDS),
        best=draw(st.booleans()),
        scarf=scarf,
        scarf_side=side,
        no_joint=draw(STRETCHES),
        piece_of=draw(WORDS),
    )


@given(
    st.lists(parts(), min_size=1, max_size=5, unique_by=lambda part: part.name.strip().casefold()),
    st.sampled_from(("in", "mm")),
)
def test_what_is_written_is_read_back_to_the_letter(listed: list[Part], unit: str) -> None:
    sheet = read(parts_csv.write(listed), WOODS, unit=unit)
    assert told(sheet) == []
    assert list(sheet.parts) == listed
    job = StartJob("Tansy").apply(Job(""))
    assert PutParts(sheet.parts).apply(job).parts == tuple(listed)


def test_the_invented_job_comes_through_whole(woods: dict[str, Species]) -> None:
    history = EMPTY
    for edit in entries(woods):
        history = history.accept(edit)
    assert len(history.job.parts) == 52
    assert read(parts_csv.write(history.job.parts), woods) == Sheet(history.job.parts, ())


def test_every_column_of_the_record_stands_in_the_table() -> None:
    """A field that is added to the part is lost on the way through a file until the table has it."""
    assert len(parts_csv.COLUMNS) == len(Part.__dataclass_fields__) - 1, "slope and side share a column"


def test_a_size_whose_text_was_rounded_stays_exact(woods: dict[str, Species]) -> None:
    """1/30 m is 1.312335... in: 100/127 x 5/3 in, which no decimal ends."""
    part = Part("rib", inches("20"), Typed(Fraction(1, 30), "1.312 in"), inches("1"))
    text = parts_csv.write([part])
    assert "1.312 in = 1/30" in text
    assert read(text, woods).parts == (part,)


def test_headings_are_the_words_of_the_screen_in_any_order_and_case(woods: dict[str, Species]) -> None:
    head = "Depth,WIDTH,Least_G,drawn in,part,length,Best Sticks,scarf,no joint,becomes,pieces,group,grain\n"
    row = '7/8",7/8,.40,white ash,"cap, rear",6\' 2",yes,12 Width,"0-12, 60-72",spar,4,left,rings on edge\n'
    (part,) = read(head + row, woods).parts
    assert part == Part(
        "cap, rear",
        Typed(74 * INCH, "6' 2\""),
        inches("7/8"),
        Typed(Fraction(7, 8) * INCH, '7/8"'),
        4,
        "white_ash",
        minimum_sg=Typed(Fraction(2, 5), ".40"),
        use="spar_flange",
        group="left",
        grain="rings on edge",
        best=True,
        # Slope is rise over run: a scarf of 1:12 runs twelve times the side it is cut across.
        scarf=Typed(Fraction(1, 12), "1:12"),
        scarf_side="width",
        no_joint=(Stretch(inches("0"), inches("12")), Stretch(inches("60"), inches("72"))),
    )


def test_what_is_left_out_is_one_piece_of_the_drawings_wood_with_no_joint(woods: dict[str, Species]) -> None:
    (part,) = parts_csv.read(HEAD + GOOD, woods, (), drawn_in="white_ash").parts
    assert part == Part("cap", inches("60"), inches("3/4"), inches("3/4"), species="white_ash")
    assert (part.quantity, part.scarf, part.use) == (1, None, "small_part")


@pytest.mark.parametrize("sign", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_every_sign_between_cells_and_every_end_of_line(
    woods: dict[str, Species], sign: str, end: str, mark: str
) -> None:
    text = mark + ("\n" + HEAD + "\n\n" + GOOD + ",,,,\n").replace(",", sign).replace("\n", end)
    sheet = read(text, woods)
    assert told(sheet) == []
    assert [part.name for part in sheet.parts] == ["cap"]


def test_bare_sizes_and_stretches_take_the_unit_of_the_shop(woods: dict[str, Species]) -> None:
    sheet = read(HEAD.strip() + ",no joint\ncap,1800,19,19,100-200\n", woods, unit="mm")
    assert sheet.parts[0].length == Typed(Fraction(18, 10), "1800 mm")
    assert sheet.parts[0].no_joint[0].end == Typed(Fraction(2, 10), "200 mm")


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "line 1: there is nothing; a heading row with part, length, width and depth is wanted"),
        (HEAD, "line 1: no part stands below the heading row"),
        ("part,width,depth\ncap,1,1\n", "line 1, length: this column is missing; a heading row with part"),
        (HEAD.replace("depth", "depth,peices"), "line 1, peices: there is no such column; nearest: pieces"),
        (HEAD.replace("depth", "depth,Part"), "line 1, part: this column stands there twice"),
        (HEAD + "cap,6x,1,1\n", "line 2, length: '6x' has 'x' after the number"),
        (HEAD + "cap,60,,1\n", "line 2, width: '' is empty; a length like"),
        (HEAD + "cap,60,0,1\n", "line 2, width: 0 in is not possible here; a size above zero"),
        (HEAD + "cap,-60,1,1\n", "line 2, length: '-60' is negative; a length like"),
        (HEAD + "cap,600 m,1,1\n", "line 2, length: 600 m is not possible here; 100 m is the most"),
        (HEAD + ",60,1,1\n", "line 2, part: not given; give a name"),
        (HEAD + f"{'c' * 41},60,1,1\n", "line 2, part: cccccccccccc... is not possible here; 40 characters"),
        (
            HEAD + GOOD + "Cap ,60,1,1\n",
            "line 3, part: 'Cap' is taken, line 2 has it; each part wants a",
        ),
        (HEAD + "Spar,60,1,1\n", "line 2, part: 'Spar' is taken, the job has it"),
        (HEAD + GOOD.strip() + ",left\n", "line 2: 'left' stands under no heading"),
        (HEAD + 'cap,60,1,"1\n', "line 2: a quote does not close"),
        (more("pieces", "2.5"), "line 2, pieces: '2.5' is not a whole number; a whole number like"),
        (more("pieces", "-2"), "line 2, pieces: '-2' is negative"),
        (more("pieces", "10001"), "line 2, pieces: 10001 is not possible here; 0 to 10000"),
        (
            more("becomes", "firewood"),
            "line 2, becomes: 'firewood' is no use; small part, spar flange",
        ),
        (more("becomes", "s"), "line 2, becomes: 's' is no use"),
        (more("critical", "perhaps"), "line 2, critical: 'perhaps' is not possible here; yes or no"),
        (more("best sticks", "2"), "line 2, best sticks: '2' is not possible here; yes or no"),
        (more("drawn in", "whit ash"), "line 2, drawn in: 'whit ash' is not known; nearest: white_ash"),
        (more("least G", "3"), "line 2, least G: 3 is not possible here; 0 to 2 is possible"),
        (more("least G", "light"), "line 2, least G: 'light' has no number in it"),
        (more("scarf", "1:3"), "line 2, scarf: 1:3 is not possible here; 1:30 to 1:4 is possible, say 1:12"),
        (more("scarf", "straight"), "line 2, scarf: straight is not possible here; 1:30 to 1:4"),
        (more("scarf", "steep"), "line 2, scarf: 'steep' has no number in it; a slope of a scarf like 12"),
        (
            more("no joint", "50-61"),
            "line 2, no joint: 50 in to 61 in is not possible here; a stretch",
        ),
        (more("no joint", "12-0"), "line 2, no joint: '12-0' has '12-0', which runs backwards"),
        (more("no joint", "12"), "line 2, no joint: '12' has 12 in, a place without length; stretches like"),
        (more("no joint", '"0-1,5"'), "line 2, no joint: '0-1,5' has '1,5', where the comma may part two"),
        (more("group", "g" * 41), "line 2, group: gggggggggggg... is not possible here; 40 characters"),
        (more("grain", "g" * 201), "line 2, grain: gggggggggggg... is not possible here; 200 characters"),
    ],
)
def test_a_fault_has_its_line_its_column_and_what_would_be_right(
    woods: dict[str, Species], text: str, fault: str
) -> None:
    sheet = read(text, woods, ("spar",))
    assert [line for line in told(sheet) if line.startswith(fault)], told(sheet)


@pytest.mark.parametrize("said", ["", "no", "none", "-", "--"])
def test_no_joint_is_said_in_many_ways(woods: dict[str, Species], said: str) -> None:
    (part,) = read(more("scarf,no joint", f"{said},{said}"), woods).parts
    assert (part.scarf, part.scarf_side, part.no_joint) == (None, "", ())


def test_every_fault_of_a_line_is_told_and_the_good_lines_are_kept(woods: dict[str, Species]) -> None:
    sheet = read(HEAD + GOOD + "rib,6x,,0\n" + GOOD.replace("cap", "post") + "\nstrut,60,1\n", woods)
    assert [(fault.line, fault.column) for fault in sheet.faults] == [
        (3, "length"),
        (3, "width"),
        (3, "depth"),
        (6, "depth"),
    ]
    assert [part.name for part in sheet.parts] == ["cap", "post"]


def test_more_pieces_than_any_aircraft_has_are_refused_as_a_whole(woods: dict[str, Species]) -> None:
    head = "part,pieces,length,width,depth\n"
    rows = ("cap,9000,60,1,1\n", "rib,999,20,1,1\n", "post,1,20,1,1\n")
    assert told(read(head + "".join(rows), woods)) == [], "10,000 are taken"
    sheet = read(head + "".join(rows) + "strut,1,20,1,1\n", woods)
    assert told(sheet) == [
        "line 5, pieces: 10,001 pieces up to here, and 10,000 is the most: look at this column"
    ]
    assert sheet.parts == ()


def test_more_lines_than_any_drawing_has_are_refused_as_a_whole(woods: dict[str, Species]) -> None:
    rows = [f"rib {number},20,1,1\n" for number in range(2000)]
    assert len(read(HEAD + "".join(rows), woods).parts) == 2000
    sheet = read(HEAD + "".join(rows) + GOOD, woods)
    assert told(sheet) == ["line 2002: 2,000 parts is the most, and the file has 2,001: look at the file"]
    assert sheet.parts == ()


@given(st.text())
def test_nothing_that_is_pasted_raises(text: str) -> None:
    sheet = read(HEAD + text, WOODS)
    assert sheet.parts or sheet.faults


# --- what the record says of parts and of the saw

CAP = Part("cap", inches("60"), inches("1"), inches("3/4"), 2)
LENGTHS_OF_CAP = tuple(
    Part(f"cap {end}", inches("33"), inches("1"), inches("3/4"), piece_of="cap") for end in "LR"
)
LAID = (Laid("rib", "A-1", Fraction(0), Fraction(1)), Laid("rib", "A-2", Fraction(0), Fraction(1)))


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (
            edits.PutPart(
                Part(
                    *("cap", inches("60"), inches("1"), inches("3/4"), 2),
                    critical=True,
                    best=True,
                    minimum_sg=Typed(Fraction(2, 5), "0.40"),
                    group="left",
                    grain="rings on edge",
                    scarf=Typed(Fraction(1, 12), "1:12"),
                    scarf_side="width",
                    no_joint=(Stretch(inches("0"), inches("12")),),
                )
            ),
            "part cap added: 2 x 60 in, 1 in x 3/4 in sitka_spruce, becomes small part, critical, best "
            "sticks first, least gravity 0.40, scarf 1:12 width, no joint in 0 in to 12 in, grain "
            "rings on edge, group left",
        ),
        (
            edits.PutPart(LENGTHS_OF_CAP[0], was="c"),
            "part c changed: cap L, 1 x 33 in, 1 in x 3/4 in sitka_spruce, becomes small part, one length of "
            "cap",
        ),
        (edits.PutParts((CAP,)), "1 part off a list, 2 pieces: cap"),
        (
            edits.PutParts(tuple(Part(name, *(inches("9"),) * 3) for name in "abcdef")),
            "6 parts off a list, 6 pieces: a, b, c, d and 2 more",
        ),
        (edits.LayOut(LAID), "laid out for the saw: 2 pieces on 2 sticks"),
        (
            edits.LayOut(LAID[:1], (Scarfed("cap", LENGTHS_OF_CAP),), follows=True),
            "what is left laid out anew: 1 piece on 1 stick; one cap made of 2 lengths",
        ),
        (edits.LayOut(()), "no layout is kept for the saw: it is laid out anew each time"),
        (
            edits.SpoilPiece(Spoilt("rib", "A-1", 30 * INCH, 50 * INCH, "split in the vise")),
            "rib SPOILED on A-1, 30 in to 50 in: split in the vise",
        ),
        (
            edits.SpoilPiece(Spoilt("rib", "A-1", Fraction(0), 20 * INCH)),
            "rib SPOILED on A-1, 0 in to 20 in",
        ),
        (
            edits.CutShort("rib", "A-1", 30 * INCH, inches("19"), "A-1s"),
            "rib from A-1 at 30 in CAME OFF SHORT, 19 in; in the rack as A-1s",
        ),
        (edits.CondemnStick("A-1", "shake at 31 in "), "stick A-1 CONDEMNED: shake at 31 in"),
        (edits.CondemnStick("A-1", ""), "stick A-1 no longer condemned, judged as before"),
        (
            edits.RipPlank("P-1", (inches("1"), inches("2")), inches("3")),
            "plank P-1 ripped into 2 strips, 1 in, 2 in; 3 in of the board is left",
        ),
        (edits.RipPlank("P-1", (inches("1"),)), "plank P-1 ripped into 1 strip, 1 in"),
        (
            edits.PutOffer(
                Offer("mill", "white_ash", inches("1"), inches("6"), inches("96"), Typed(Fraction(9), "9"))
            ),
            "wood on offer: mill, white_ash, 1 in x 6 in x 96 in, 9 a board foot",
        ),
        (
            edits.PutOffer(Offer("mill", "white_ash", inches("1"), inches("6"), inches("96")), was="yard"),
            "wood on offer, yard changed: mill, white_ash, 1 in x 6 in x 96 in",
        ),
        (edits.RemoveOffer("mill"), "wood on offer: mill taken out"),
        (
            edits.PutCoupon(
                Coupon(
                    "D-1", "drop", inches("1/2"), inches("1/2"), stick="A-1", span=inches("7"), aside="slip"
                )
            ),
            "coupon D-1 added, drop test, 1/2 in x 1/2 in, cut from A-1, span 7 in, SET ASIDE: slip",
        ),
        (
            edits.PutCoupon(
                Coupon("D-2", "glue", inches("1"), inches("1/2"), species="white_ash", lot="L", group="new"),
                was="D-1",
            ),
            "coupon D-1 changed: D-2, glue test, 1 in x 1/2 in, white ash, lot L, group new",
        ),
        (edits.RemoveCoupon("D-1"), "coupon D-1 taken out"),
        (edits.Strike("D-1", Blow(inches("6"), "nothing")), "coupon D-1, blow from 6 in: nothing seen"),
        (edits.Strike("D-1", Blow(inches("7"), "crack")), "coupon D-1, blow from 7 in: first CRACK"),
        (
            edits.TakeLoad("E-1", LoadPoint(Typed(Fraction(1), "25 lbf"), inches("0.05"))),
            "coupon E-1 bent: 25 lbf at 0.05 in",
        ),
    ],
)
def test_an_edit_in_one_line(edit: edits.Edit, said: str) -> None:
    assert telling.told(edit) == said


def test_every_edit_has_a_sentence() -> None:
    assert set(telling._SAID) == set(edits.EDITS.values())
