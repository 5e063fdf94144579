"""The printed page: one file alone, every drawing to scale and whole, every name as text."""

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from html.parser import HTMLParser
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from core_cases import WOODS, demo, part, reading, stick
from cut_cases import BAD, DOUBTFUL, GOOD, INCH, NASTY, every_piece, inch, job, ripped, spoilt, unchecked

from bench import units
from bench.core.edits import ChangeSettings, MarkCut, SetAside, TakeReading
from bench.core.edits_saw import CondemnStick
from bench.core.records import CutMade, Defect, Job, Settings, inches
from bench.core.river import River, flow
from bench.core.stretches import KERF, LOST, MADE, OFFCUT, PIECE, REST, SPOILT, boards
from bench.sheets import cut_sheet, inspecting, wording, writing_html

SVG = "{http://www.w3.org/2000/svg}"
EMPTY = {"meta", "br", "hr", "img", "link", "input"}  # void elements of HTML, WHATWG sec. 13.1.2


def river() -> River:
    return flow(demo().job, WOODS)


def page(found: River) -> str:
    return writing_html.write(cut_sheet.sheet(found, WOODS))


def drawings(text: str) -> list[ElementTree.Element]:
    """Every picture of the page, read by an XML reader."""
    return [ElementTree.fromstring(one) for one in re.findall(r"<svg.*?</svg>", text, re.DOTALL)]


def sticks(text: str) -> list[ElementTree.Element]:
    """The pictures that are of sticks."""
    return [one for one in drawings(text) if one.findall(f"{SVG}rect[@class='stick']")]


def size(box: ElementTree.Element, side: str) -> float:
    return float(box.attrib[side])


def kinds(picture: ElementTree.Element) -> list[ElementTree.Element]:
    """The boxes of one picture that stand for wood or for the blade."""
    return [box for box in picture.iter(f"{SVG}rect") if "data-kind" in box.attrib]


def texts(picture: ElementTree.Element) -> list[ElementTree.Element]:
    return list(picture.iter(f"{SVG}text"))


class Reader(HTMLParser):
    """Tags opened and closed in order, what stands between them, and the cells of tables."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: Counter[str] = Counter()
        self.attributes: list[tuple[str, str | None]] = []
        self.text: list[str] = []
        self.rows: list[list[str]] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        self.attributes += attrs
        if tag not in EMPTY:
            self.open.append(tag)
        if tag == "tr":
            self.rows.append([])
        if tag == "td":
            self.rows[-1].append("")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        self.attributes += attrs

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)
        if "td" in self.open:
            self.rows[-1][-1] += data


@pytest.fixture(params=["demo", "ripped", "spoilt"])
def found(request: pytest.FixtureRequest) -> River:
    return {"demo": river, "ripped": ripped, "spoilt": lambda: spoilt(river())}[request.param]()


# --- one file alone ------------------------------------------------------------------------------------


def test_the_page_is_whole_and_needs_nothing_but_itself(found: River) -> None:
    text = page(found)
    read = Reader(text)
    assert read.open == [] and text.startswith("<!DOCTYPE html>\n<html lang=")
    assert ("charset", "utf-8") in read.attributes and ("lang", "en") in read.attributes
    assert read.tags["title"] >= 1 and read.tags["h1"] == 1
    assert not {"script", "link", "img", "iframe", "object", "base", "form"} & set(read.tags)
    names = {name for name, _ in read.attributes}
    assert not {"href", "src", "xlink:href", "style"} & names and not any(n.startswith("on") for n in names)
    assert "@import" not in text and not re.search(r"url\((?!#)", text)
    links = set(re.findall(r"https?://[^\"' ]*", text))
    assert links == {"http://www.w3.org/2000/svg"}, "the name space of the pictures, and no address"


def test_ids_are_of_one_picture_each_and_every_hatch_is_there(found: River) -> None:
    text = page(found)
    ids = re.findall(r'\bid="([^"]+)"', text)
    assert ids and len(ids) == len(set(ids))
    for one in re.findall(r"<svg.*?</svg>", text, re.DOTALL):
        assert set(re.findall(r"url\(#([^)]+)\)", one)) <= set(re.findall(r'\bid="([^"]+)"', one))


def test_no_stick_is_parted_by_the_end_of_a_page_and_nothing_needs_colour(found: River) -> None:
    text = page(found)
    style = text[text.index("<style>") : text.index("</style>")]
    assert re.search(r"section\.stick \{[^}]*break-inside: avoid", style) and "@page" in style
    colours = set(re.findall(r"#[0-9a-fA-F]{3,6}\b(?=[\"';])", text))
    assert colours and all(len(set(colour[1:])) == 1 for colour in colours), "black, white and greys"
    assert text.count('<section class="stick">') == len(boards(found)) == len(sticks(text))


# --- every piece once ----------------------------------------------------------------------------------


def test_every_piece_of_the_plan_is_drawn_once_and_listed_once(found: River) -> None:
    text, wanted = page(found), every_piece(found)
    numbers = {str(number): name for number, name, _, _ in wanted}
    drawn = Counter(
        box.attrib["data-cut"] for one in drawings(text) for box in kinds(one) if "data-cut" in box.attrib
    )
    assert drawn == dict.fromkeys(numbers, 1)
    rows = {cells[1]: cells for cells in Reader(text).rows if cells[:1] == ["[ ]"]}
    assert list(rows) == [str(number) for number, *_ in wanted]
    for number, name, start, end in wanted:
        cells = rows[str(number)]
        assert cells[5] == name
        assert cells[2:5] == [units.place(place) for place in (end - start, start, end)]


def test_every_number_of_a_cut_can_be_read_on_its_drawing(found: River) -> None:
    """Inside its piece, or above the stick where that is too short."""
    for board, picture in zip(ordered(found), sticks(page(found)), strict=True):
        begins = [re.match(r"\d+", text.text or "") for text in above_ruler(picture)]
        said = Counter(match[0] for match in begins if match)
        assert said == {str(piece.number): 1 for piece in board.pieces}


def ordered(found: River) -> list:
    """The sticks in the order of the page: those still to be cut from first."""
    return sorted(boards(found), key=lambda board: not board.pieces)


def above_ruler(picture: ElementTree.Element) -> list[ElementTree.Element]:
    """The texts of a picture but for the figures of its ruler; a text that stands upright has no place."""
    foot = max(size(box, "y") + size(box, "height") for box in kinds(picture))
    return [text for text in texts(picture) if "y" not in text.attrib or size(text, "y") < foot]


# --- to scale ------------------------------------------------------------------------------------------


def test_every_stretch_is_drawn_to_one_scale_and_they_add_up_to_the_stick(found: River) -> None:
    """Lengths are read off the drawing and held against the plan, the job and the stock."""
    scale = None
    for board, picture in zip(ordered(found), sticks(page(found)), strict=True):
        outlines = picture.findall(f"{SVG}rect[@class='stick']")
        assert len(outlines) == len(board.rows)
        for row, outline in zip(board.rows, outlines, strict=True):
            long = size(outline, "width") / float(board.stick.length.exact)
            scale = long if scale is None else scale
            assert long == pytest.approx(scale, rel=1e-6)
            left, top = size(outline, "x"), size(outline, "y")
            high = size(outline, "height")
            boxes = [box for box in kinds(picture) if (size(box, "y"), size(box, "height")) == (top, high)]
            assert [box.attrib["data-kind"] for box in boxes] == [run.kind for run in row.runs]
            here = left
            for box, run in zip(boxes, row.runs, strict=True):
                assert size(box, "width") == pytest.approx(float(run.length) * scale, abs=1e-6)
                assert size(box, "x") == pytest.approx(left + float(run.start) * scale, abs=1e-6)
                assert size(box, "x") == pytest.approx(here, abs=1e-6)
                here = size(box, "x") + size(box, "width")
            assert here == pytest.approx(left + size(outline, "width"), abs=1e-6)


def test_pieces_lie_where_the_plan_has_them(found: River) -> None:
    """Straight from the plan of the river, without the stretches in between."""
    rows = {row.tag: [] for row in found.plan.sticks}
    for row in found.plan.sticks:
        rows[row.tag] += [(piece.start, piece.end) for piece in row.pieces]
    by_name = {(one.find(f"{SVG}title").text or "").split(", ")[0]: one for one in sticks(page(found))}
    for tag, places in rows.items():
        picture = by_name[tag]
        outline = picture.find(f"{SVG}rect[@class='stick']")
        length = found.job.stick(tag).length.exact
        scale = size(outline, "width") / float(length)
        pieces = [box for box in kinds(picture) if box.attrib["data-kind"] == PIECE]
        drawn = sorted(
            ((size(box, "x") - size(outline, "x")) / scale, size(box, "width") / scale) for box in pieces
        )
        wanted = sorted((float(start), float(end - start)) for start, end in places)
        assert len(drawn) == len(wanted)
        for (start, wide), (begins, long) in zip(drawn, wanted, strict=True):
            assert start == pytest.approx(begins, abs=1e-6) and wide == pytest.approx(long, abs=1e-6)


def test_nothing_is_drawn_beyond_the_edge_of_its_picture(found: River) -> None:
    for picture in drawings(page(found)):
        _, _, wide, high = map(float, picture.attrib["viewBox"].split())
        for box in picture.iter(f"{SVG}rect"):
            if "x" in box.attrib:  # else within the tile of a hatch
                assert size(box, "x") >= 0 and size(box, "x") + size(box, "width") <= wide + 1e-6
                assert size(box, "y") >= 0 and size(box, "y") + size(box, "height") <= high + 1e-6
        assert all(0 <= size(text, "y") <= high for text in texts(picture) if "y" in text.attrib)


def test_the_blade_shows_between_pieces() -> None:
    picture = sticks(page(flow(job(stick("A", GOOD), parts=[part("rib", "20", 2)]), WOODS)))[0]
    outline = picture.find(f"{SVG}rect[@class='stick']")
    blades = [box for box in kinds(picture) if box.attrib["data-kind"] == KERF]
    assert len(blades) == 2 and {box.attrib["fill"] for box in blades} == {"#000"}
    assert all(
        size(box, "width") == pytest.approx(size(outline, "width") / 72 / 8, rel=1e-6) for box in blades
    )


def test_a_plank_is_drawn_with_its_strips_to_scale_across() -> None:
    """5 in: 1/8 of edge, strips of 7/8 and 1, two rip kerfs of 1/8, and 2 3/4 that stay together."""
    picture = sticks(page(ripped()))[0]
    boxes = kinds(picture)
    across = {size(box, "y"): (box.attrib["data-kind"], size(box, "height")) for box in boxes}
    heights = [high for _, (_, high) in sorted(across.items())]
    widths = ["1/8", "7/8", "1/8", "1", "1/8", "11/4"]
    assert [high / sum(heights) for high in heights] == pytest.approx(
        [float(Fraction(one) / 5) for one in widths]
    )
    assert [kind for _, (kind, _) in sorted(across.items())][-1] == REST
    assert {text.text for text in texts(picture)} >= {"strip 1", "strip 2", "left of the board"}
    plain = sticks(page(ripped()))[1].find(f"{SVG}rect[@class='stick']")
    assert size(plain, "height") / sum(heights) == pytest.approx(0.875 / 5, rel=1e-6), "one scale across"


def test_the_ruler_stands_at_round_inches() -> None:
    for board, picture in zip(ordered(river()), sticks(page(river())), strict=True):
        outline = picture.find(f"{SVG}rect[@class='stick']")
        foot = size(outline, "y") + size(outline, "height")
        figures = [text for text in texts(picture) if size(text, "y") > foot]
        assert len(figures) >= 2
        for text in figures:
            inches_ = (size(text, "x") - size(outline, "x")) / size(outline, "width")
            assert float(text.text) == pytest.approx(
                inches_ * float(board.stick.length.exact / INCH), abs=1e-4
            )


def test_no_words_run_out_of_their_piece_or_into_others() -> None:
    """A letter is taken for 0.6 of the height of the text wide, as sans serifs are at most: from memory."""
    for picture in (one for found in (river(), ripped()) for one in sticks(page(found))):
        lines: dict[float, list[tuple[float, float]]] = {}
        for text in texts(picture):
            if text.attrib.get("text-anchor") == "middle" and "x" in text.attrib:
                half = 0.3 * 11 * len(text.text or "")
                lines.setdefault(size(text, "y"), []).append((size(text, "x") - half, size(text, "x") + half))
        assert lines
        for spans in lines.values():
            spans.sort()
            assert all(end <= start for (_, end), (start, _) in pairwise(spans)), spans


def test_letters_tell_the_defects_and_what_may_stay_is_in_brackets() -> None:
    picture = sticks(page(ripped()))[0]
    said = [text.text for text in texts(picture)]
    assert inspecting.letter("knot") in said and inspecting.letter("pin_knots") in said
    assert f"({inspecting.letter('mineral_streak')})" in said
    lost = [box for box in kinds(picture) if box.attrib["data-kind"] == LOST]
    assert len(lost) == 2 and all("-lost)" in box.attrib["fill"] for box in lost)
    assert f"{inspecting.letter('knot')} 30 in to 31 in knot" in page(ripped())


def test_cut_already_and_spoiled_look_different_from_what_is_to_come() -> None:
    start = flow(job(stick("A", GOOD), parts=[part("rib", "20", 3)]), WOODS)
    cut = MarkCut(CutMade("rib", "A", Fraction(0), inch(20))).apply(start.job)
    picture = sticks(page(spoilt(flow(cut, WOODS))))[0]
    fills = {box.attrib["data-kind"]: box.attrib["fill"] for box in kinds(picture)}
    assert {MADE, SPOILT, PIECE, OFFCUT, KERF} <= set(fills) and len(set(fills.values())) == len(fills)


# --- what must be said ---------------------------------------------------------------------------------


def test_names_are_text_and_nothing_else() -> None:
    """Escaping as XML 1.0 sec. 2.4 asks: no < and no bare & in text."""
    found = replace(ripped(), job=replace(ripped().job, name=f"Job {NASTY}"))
    text = page(found)
    assert NASTY not in text and "<&" not in text
    read = Reader(text)
    assert read.open == []
    names = {cells[5] for cells in read.rows if cells[:1] == ["[ ]"]}
    assert names == {f"{name} {NASTY}" for name in ("rib", "cap", "block", "tiny", "dot")}
    titles = [one.find(f"{SVG}title").text or "" for one in sticks(text)]
    assert titles[0].startswith(f"P{NASTY}, ")


def test_letters_that_no_xml_may_hold_are_blanks() -> None:
    found = flow(unchecked(stick("A\x00B\x1b", GOOD), parts=[part("ri\x0bb\ufffe\ud800", "20")]), WOODS)
    text = page(found)
    assert len(sticks(text)) == 1 and text.encode("utf-8")
    assert "ri b" in "".join(Reader(text).text)


def test_invented_is_said_and_only_where_it_is() -> None:
    text = page(river())
    assert "INVENTED: nothing here was measured" in Reader(text).text
    assert "INVENTED" in text[text.index("<title>") : text.index("</title>")]
    assert "INVENTED" not in page(ripped())


def marked(text: str) -> list[str]:
    """What stands in a frame beside the tag of a stick."""
    return re.findall(r'<h3>.*?<span class="mark">(.*?)</span></h3>', text)


def test_held_rejected_and_condemned_sticks_are_marked() -> None:
    held = flow(
        job(stick("D", DOUBTFUL), parts=[part("rib")], habits=replace(Settings(), use_held=True)), WOODS
    )
    assert marked(page(held)) == ["ON HOLD"]
    start = MarkCut(CutMade("rib", "A", Fraction(0), inch(20))).apply(
        job(stick("A", GOOD), parts=[part("rib", "20", 2)])
    )
    bad = TakeReading("A", replace(reading(BAD), taken="2031-05-09")).apply(
        SetAside("A", 0, "slipped").apply(start)
    )
    assert marked(page(flow(bad, WOODS))) == ["REJECTED"]
    condemned = CondemnStick("A", "shake <deep>").apply(start)
    assert marked(page(flow(condemned, WOODS))) == ["CONDEMNED: shake &lt;deep&gt;"]
    assert marked(page(flow(start, WOODS))) == []


def test_totals_reasons_and_cautions_are_on_it() -> None:
    found = flow(job(stick("A", GOOD), parts=[part("spar", "100"), part("rib", "20")]), WOODS)
    said = "".join(Reader(page(found)).text)
    assert "2: 0 cut, 1 laid out, 1 without a place" in said and "of the drawing's" in said
    assert "longer than any clear length by 28 in (72 in is the longest)" in said, "100 less 72 in"
    assert wording.CAUTION_SHORT in said and "push sticks" in said
    assert "of the drawing's" not in "".join(Reader(writing_html.write(cut_sheet.sheet(found))).text), (
        "no weights without woods"
    )


def test_the_day_stands_only_where_it_is_handed_in() -> None:
    assert "2031-06-01" in writing_html.write(cut_sheet.sheet(river(), WOODS, "2031-06-01"))
    assert "2031-06-01" not in page(river())


# --- nothing, much, and odd ----------------------------------------------------------------------------


def test_nothing_to_draw_is_said() -> None:
    empty = page(flow(Job("Empty"), WOODS))
    assert "no parts yet: nothing to cut" in "".join(Reader(empty).text) and drawings(empty) == []
    refused = page(replace(ripped(), plan=None))
    assert "no plan" in "".join(Reader(refused).text) and sticks(refused) == []


def test_a_job_cut_to_the_end_keeps_its_drawings() -> None:
    start = job(stick("A", GOOD), parts=[part("rib", "20")])
    text = page(flow(MarkCut(CutMade("rib", "A", Fraction(0), inch(20))).apply(start), WOODS))
    kinds_ = [box.attrib["data-kind"] for box in kinds(sticks(text)[0])]
    assert kinds_ == [MADE, KERF, OFFCUT] and "Sticks that nothing more comes from" in text


@pytest.mark.parametrize("system", ["in", "mm"])
def test_metric_shops_get_a_metric_ruler(system: str) -> None:
    found = flow(ChangeSettings(replace(Settings(), units=system)).apply(ripped().job), WOODS)
    text = "".join(Reader(page(found)).text)
    assert ("millimetres" in text) == (system == "mm") and ("are inches" in text) == (system == "in")


def test_a_lost_stretch_that_reaches_over_the_end_is_drawn_within_the_stick() -> None:
    """A defect at the end, and the margin beside it."""
    over = replace(stick("A", GOOD), defects=(Defect(inches("60"), inches("72"), "split"),))
    habits = replace(Settings(), margin=inches("2"))
    found = flow(job(over, parts=[part("rib", "20")], habits=habits), WOODS)
    picture = sticks(page(found))[0]
    outline = picture.find(f"{SVG}rect[@class='stick']")
    last = kinds(picture)[-1]
    assert last.attrib["data-kind"] == LOST
    assert size(last, "width") / size(outline, "width") == pytest.approx(14 / 72)
    assert size(last, "x") + size(last, "width") == pytest.approx(size(outline, "x") + size(outline, "width"))
