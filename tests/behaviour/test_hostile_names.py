"""Names that are out to do harm, in a job that was made elsewhere: they show, and do nothing.

Such a job is read without being checked, as every record is; new names with what cannot be seen are refused.
"""

import csv
import io
from fractions import Fraction
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from bench.core.edits import NameJob, PutPart, PutParts, PutStick, PutSticks, StartJob
from bench.core.errors import OutOfRange
from bench.core.file_names import LONGEST_BYTES, file_stem
from bench.core.history import EDIT, EMPTY, Entry
from bench.core.records import Job, Part, Species, Stick, Typed, inches
from bench.core.river import flow
from bench.library import load
from bench.sheets import kinds, parts_csv, stock_csv, table
from bench.storage import TextFiles
from bench.ui.plain import plain
from tests.tools.driving import Notebook, lines, press, settled, shows, until

WOODS = load().species
HARMFUL = (
    "\x1b[31mred\x1b[0m", "\x1b]0;title\x07", "\x9b2J", "[bold]b[/bold]", "[/]", "[@click=app.exit]x[/]",
    "a\u202eb",    "nul\x00l", "half \ud800", "zero\u200bwidth", "cafe\u0301", "line\nend", "tab\tbed",
    "<script>alert(1)</script>",
    "&amp;\"'", "=1+1", "+1", "-1", "@SUM(A1)", "../../up", "CON", "%s{0}", "\U0001f9ea",
)  # fmt: skip
FORMULA = ("=", "+", "-", "@", "\t", "\r")
SHOWN = ("[bold]b[/bold]", "[/]", "[@click=app.exit]x[/]", "<script>alert(1)</script>", "=1+1", "@SUM(A1)")


def harmful() -> list[Entry]:
    """A job full of them, as a record that nobody checked."""
    side, long = inches("3/4"), inches("60")
    sticks = tuple(
        Stick(name, "white_ash", long, side, side, lot=name, note=name, variant=name) for name in HARMFUL
    )
    parts = tuple(
        Part(
            name,
            inches("12"),
            inches("1/2"),
            inches("1/2"),
            species="white_ash",
            note=name,
            group=name,
            grain=name,
        )
        for name in HARMFUL
    )
    edits = (StartJob(HARMFUL[0]), PutSticks(sticks), PutParts(parts), NameJob("".join(HARMFUL[:4])))
    return [Entry(EDIT, edit) for edit in edits]


def job() -> Job:
    history = EMPTY
    for entry in harmful():
        history = history.follow(entry)
    return history.job


@pytest.mark.parametrize("size", [(80, 24), (160, 45)])
async def test_nothing_on_the_screen_steers_the_terminal(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    notebook = Notebook()
    for entry in harmful():
        notebook.history = notebook.history.follow(entry)
        notebook.entries.append(("2031-05-01T08:00:00", entry))
    app = notebook.open(woods, notice=f"cannot be read: {HARMFUL[0]}")
    seen = ""
    async with app.run_test(size=size) as pilot:
        await until(pilot, lambda: app.bench is not None and app.bench.river is not None, "the bench")
        for key in (
            "f",
            "s",
            "c",
            "v",
            "enter",
            "t",
            "v",
            "p",
            "i",
            "e",
            "m",
            "b",
            "r",
            "w",
            "h",
            "l",
            "o",
            "t",
        ):
            await press(pilot, key)
            for _ in range(2):
                shown = lines(app)
                bad = [line for line in shown if not line.isprintable()]
                assert bad == [], f"after {key}"
                assert all(cell_len(line) <= size[0] for line in shown)
                seen += "\n".join(shown)
                await press(pilot, "pagedown")
        await settled(pilot)
    missing = [name for name in SHOWN if name not in seen]
    assert missing == [], "what can be seen is shown as it was typed"


@given(st.text(max_size=40))
def test_what_is_shown_keeps_its_width(text: str) -> None:
    shown = plain(text)
    assert plain(shown) == shown
    assert cell_len(shown) == cell_len(text)
    assert not set(shown) & set("\x1b\x07\x00\n\r\x9b\u202e\u2066\ud800\x7f")
    if text.isprintable():
        assert shown == text


class Page(HTMLParser):
    """The tags and the text of a page."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags, self.text, self.attributes = set[str](), "", set[str]()
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_data(self, data: str) -> None:
        self.text += data


SHELF = kinds.Shelf(flow(job(), WOODS), [("2026-03-14T10:05:00", entry) for entry in harmful()], WOODS, {})
OF_HARM = [(kind, HARMFUL[13] if kind == kinds.STICK else "") for kind in kinds.KINDS]


@pytest.mark.parametrize(("kind", "tag"), OF_HARM)
def test_a_page_shows_them_and_runs_nothing(kind: str, tag: str) -> None:
    page = Page(kinds.text_of(kind, "html", SHELF, tag))
    assert "script" not in page.tags
    assert not {name for name in page.attributes if name.startswith("on") or name == "src"}
    assert not set(page.text) & set("\x1b\x07\x00\x9b\u202e")
    for name in SHOWN if kind in (kinds.BINDER, kinds.ACCEPTANCE) else ():
        assert name in page.text


@pytest.mark.parametrize(("kind", "tag"), OF_HARM)
def test_text_files_steer_nothing(kind: str, tag: str, tmp_path: Path) -> None:
    for form in ("text", "md", "csv"):
        text = kinds.text_of(kind, form, SHELF, tag)
        where = TextFiles().write(str(tmp_path / f"all.{form}"), text)
        written = Path(where).read_bytes().decode()
        assert not set(written) & set("\x1b\x07\x00\x9b\u202e\x7f"), form
        if form == "csv":
            cells = [cell for row in csv.reader(written.splitlines()) for cell in row]
            assert not [cell for cell in cells if cell.startswith(FORMULA)]


# --- tables --------------------------------------------------------------------------------------------


@given(st.text(max_size=20))
def test_no_cell_is_a_formula_and_every_cell_comes_back(text: str) -> None:
    cell = table.as_text(text)
    assert not cell.startswith(FORMULA)
    assert table.as_typed(cell) == text


@given(st.text(st.sampled_from("'=+-@ab"), min_size=1, max_size=6))
def test_a_cell_that_begins_with_apostrophes_comes_back(text: str) -> None:
    assert table.as_typed(table.as_text(text)) == text
    assert not table.as_text(text).startswith(FORMULA)


@given(
    st.lists(st.text(st.sampled_from("'=+-@ab1 [/]<"), min_size=1, max_size=12).map(str.strip), max_size=4)
)
def test_a_table_of_formulas_is_read_as_it_was_written(names: list[str]) -> None:
    side = inches("3/4")
    unique = {table.same(name): name for name in names if name}.values()
    sticks = tuple(Stick(name, "white_ash", inches("60"), side, side, note=name, lot=name) for name in unique)
    parts = tuple(Part(name, inches("12"), side, side, note=name, grain=name) for name in unique)
    for text in (stock_csv.write(sticks), parts_csv.write(parts)):
        for row in csv.reader(io.StringIO(text)):
            assert not [cell for cell in row if cell.startswith(FORMULA)]
    assert stock_csv.read(stock_csv.write(sticks), WOODS, ()).sticks == sticks
    assert parts_csv.read(parts_csv.write(parts), WOODS, ()).parts == parts


# --- names ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["\x1b[31mA", "A\u202e1", "A\x00", "A\u200b", "A\nB", "A\ud800", "A\u2028", "A\xa0B"]
)
def test_a_new_name_has_only_what_can_be_seen(name: str) -> None:
    metre = Typed(Fraction(1), "1 m")
    for edit in (
        PutStick(Stick(name, "white_ash", metre, metre, metre)),
        PutPart(Part(name, metre, metre, metre)),
        PutPart(Part("rib", metre, metre, metre, grain=name)),
        NameJob(name),
    ):
        with pytest.raises(OutOfRange, match=r"U\+[0-9A-F]{4}, which cannot be seen") as refusal:
            edit.check(Job("Tansy"))
        assert refusal.value.message.isprintable()


@given(st.text(max_size=300))
def test_a_file_name_stays_in_its_folder(name: str) -> None:
    stem = file_stem(name)
    assert stem and len(stem.encode()) <= LONGEST_BYTES + 4
    assert not set(stem) & set('/\\:*?"<>|.\x00 \n')
    assert (Path("/folder") / f"{stem}.txt").parent == Path("/folder")


@pytest.mark.parametrize(
    "name", ["con", "CON", "nul", "Aux", "lpt1", "COM9", "../..", "..", "", "/", "C:\\x", "~"]
)
def test_names_of_devices_and_folders_are_no_file_names(name: str) -> None:
    assert file_stem(name).casefold() not in ("con", "nul", "aux", "lpt1", "com9", "..", "~", "")


async def test_the_name_offered_for_a_sheet_is_a_file_name(woods: dict[str, Species]) -> None:
    side = inches("3/4")
    app = Notebook(StartJob("../up"), PutStick(Stick("../../A", "white_ash", side, side, side))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "e", "x")
        await until(pilot, shows(app, "to file: A-stick.html"), "a path offered")
        assert not [line for line in lines(app) if "../" in line and ".html" in line]
