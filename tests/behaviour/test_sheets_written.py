"""Every sheet in every format: whole, alone, escaped, and the same things said in all of them."""

import csv
import io
import re
from functools import cache
from html.parser import HTMLParser

import pytest
from core_cases import WOODS, demo
from cut_cases import NASTY, ripped
from hypothesis import given, settings
from hypothesis import strategies as st

from bench import __version__
from bench.core.errors import BadInput, Refusal, UnknownName
from bench.core.history import EDIT, Entry
from bench.core.records import Job
from bench.core.river import flow
from bench.library import load
from bench.sheets import binder, heading, kinds, paper, wording, writing_csv, writing_html
from bench.sheets import writing_markdown as markdown
from bench.sheets.paper import (
    BELOW,
    MARK,
    NUMBER,
    Blanks,
    Column,
    Drawing,
    Fixed,
    Section,
    Sheet,
    Table,
    Tags,
    Text,
)
from bench.sheets.table import as_text, as_typed

VOID = {"meta", "wbr", "br"}
DAY = "2031-06-01"
HOSTILE = "=1+1 <b onload=x>&`*_[a](b)|# \x1b[31m\u2028\ud800"


class Page(HTMLParser):
    """Tags in balance, and what could reach out of the page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []
        self.said: list[str] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs
        assert len(attrs) == len(dict(attrs)), attrs
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.said.append(data)


@cache
def shelf() -> kinds.Shelf:
    history = demo()
    record = [(f"2026-03-{12 + n // 30:02d}T08:00:00", Entry(EDIT, edit)) for n, edit in enumerate(edits())]
    return kinds.Shelf(flow(history.job, WOODS), record, WOODS, load().sources, DAY)


def edits() -> list:
    from bench.core.demo import entries

    return list(entries(WOODS))


@cache
def text(kind: str, form: str) -> str:
    return kinds.text_of(kind, form, shelf(), "A-01" if kind == kinds.STICK else "")


def hostile() -> Sheet:
    """Nothing but what no reader may take for its own signs, in every place there is."""
    rows = ((HOSTILE, HOSTILE, HOSTILE), ("\t=x", "-2", "@x"))
    columns = (Column(HOSTILE), Column("n", NUMBER), Column("under", BELOW, "under "))
    blocks = (
        *(Text(HOSTILE, kind) for kind in ("", MARK)),
        Fixed((HOSTILE, f"  {HOSTILE}", "")),
        Table(columns, rows),
        Table(columns, rows, across=True),
        Drawing("<svg></svg>", HOSTILE),
        Tags(((HOSTILE, HOSTILE),)),
        Blanks((HOSTILE,)),
    )
    inner = Section(HOSTILE, blocks, mark=HOSTILE)
    return Sheet(HOSTILE, HOSTILE, HOSTILE, blocks, (inner,), blocks, HOSTILE, numbered=True)


# --- HTML ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", kinds.KINDS)
def test_a_page_needs_nothing_but_itself(kind: str) -> None:
    """Void elements and attributes after the WHATWG living standard, from memory."""
    page = text(kind, "html")
    read = Page(page)
    assert not {"script", "link", "img", "iframe", "object", "base", "form", "a"} & (
        read.tags - ({"a"} if kind == kinds.BINDER else set())
    )
    for name, value in read.attributes:
        assert name not in ("src", "style", "xlink:href") and not name.startswith("on"), name
        assert name != "href" or (value or "").startswith("#s"), value
    assert "@import" not in page and not re.search(r"url\((?!#)", page)
    assert set(re.findall(r"https?://[^\"' ]*", page)) <= {"http://www.w3.org/2000/svg"}
    ids = [value for name, value in read.attributes if name == "id"]
    assert len(ids) == len(set(ids))
    assert {f"#{one}" for one in ids} >= {value for name, value in read.attributes if name == "href"}


def test_whatever_is_typed_is_text_on_a_page() -> None:
    page = writing_html.write(hostile())
    read = Page(page)
    assert "<b onload" not in page
    assert not any(name == "onload" for name, _ in read.attributes)
    assert "=1+1 <b onload=x>&" in "".join(read.said)
    assert "\x1b" not in page and page.encode("utf-8")
    style = page[page.index("<style>") : page.index("</style>")]
    assert "onload=x" not in style and "<" not in style.removeprefix("<style>")


def test_pages_are_numbered_and_chapters_too_where_a_browser_cannot() -> None:
    page = text(kinds.BINDER, "html")
    assert "counter(page)" in page and "size: landscape" in page and "size: A4" not in page
    chapters = re.findall(r"chapter (\d+) of (\d+)", page)
    assert [int(one) for one, _ in chapters] == list(range(1, len(chapters) + 1))
    assert {int(of) for _, of in chapters} == {len(chapters)} and len(chapters) >= 9
    assert len(re.findall(r"<table[ >]", page)) == page.count("<tbody>") and "table-header-group" in page


# --- Markdown ------------------------------------------------------------------------------------------


def test_whatever_is_typed_is_text_in_markdown() -> None:
    """CommonMark 0.31 sec. 2.4: any ASCII punctuation may be escaped by a backslash; from memory."""
    assert markdown.escape("a|b `c` *d* [e](f) <g> _h_") == r"a\|b \`c\` \*d\* \[e\](f) \<g\> \_h\_"
    assert markdown.escape("- no list") == r"\- no list" and markdown.escape("12. no list") == r"12\. no list"
    assert markdown.escape("a\nb") == "a b"
    written = markdown.write(hostile())
    unfenced = re.sub(r"^```.*?^```$", "", written, flags=re.MULTILINE | re.DOTALL)
    assert "\x1b" not in written and "[31m" in written
    assert not re.search(r"(?<!\\)[<`*_|](?=b onload|\[a|_)", unfenced)


@pytest.mark.parametrize("kind", kinds.KINDS)
def test_every_row_of_a_table_has_as_many_cells_as_its_head(kind: str) -> None:
    count = 0
    for row in text(kind, "md").split("\n"):
        if not row.startswith("| "):
            count = 0
            continue
        cells = len(re.findall(r"(?<!\\)\|", row))
        count = count or cells
        assert cells == count, row


def test_a_fence_is_longer_than_any_in_it() -> None:
    sheet = Sheet("k", "j", "m", (Fixed(("```", "````x")),))
    assert "\n`````\n```\n````x\n`````\n" in markdown.write(sheet)


# --- CSV -----------------------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(st.text("'=+-@\t\ra,;\"\n ", max_size=6))
def test_a_cell_is_no_formula_and_reads_back_the_same(cell: str) -> None:
    written = as_text(cell)
    assert as_typed(written) == cell and written[:1] not in ("=", "+", "-", "@", "\t", "\r")
    out = io.StringIO()
    csv.writer(out).writerow([written])
    assert [as_typed(one) for one in next(csv.reader(io.StringIO(out.getvalue(), newline="")))] == [cell]


@pytest.mark.parametrize("kind", kinds.KINDS)
def test_tables_are_read_by_the_library_and_no_cell_is_a_formula(kind: str) -> None:
    """By Python's csv module, which knows nothing of this program."""
    written = text(kind, "csv")
    rows = list(csv.reader(io.StringIO(written), strict=True))
    assert rows
    for row, head in zip(rows, heads(rows), strict=True):
        assert not row or len(row) == len(head)
        assert not any(cell[:1] in ("=", "+", "-", "@", "\t", "\r") for cell in row if cell)


def heads(rows: list[list[str]]) -> list[list[str]]:
    """The heading row that each row stands under."""
    found, last = [], rows[0]
    for place, row in enumerate(rows):
        last = row if place == 0 or not rows[place - 1] else last
        found.append(last)
    return found


def test_the_tables_of_a_hostile_sheet_come_back_as_they_were() -> None:
    rows = list(csv.reader(io.StringIO(writing_csv.write(hostile()))))
    cells = {as_typed(cell) for row in rows for cell in row}
    assert {"-2", "@x", paper.clean(HOSTILE)} <= cells


# --- what every sheet says -----------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["html", "md", "text"])
@pytest.mark.parametrize("kind", kinds.KINDS)
def test_every_sheet_says_whose_it_is_what_wrote_it_and_when(kind: str, form: str) -> None:
    said = " ".join(text(kind, form).replace("\\", "").split())
    assert heading.INVENTED in said and f"tenthmark {__version__}, {DAY}" in said
    if kind != kinds.LABELS:
        assert wording.CAUTION_SHORT in said or wording.CAUTION.split(".")[0] in said
    if kind not in (kinds.LABELS, kinds.CUTS):
        assert "looked through by" in said, "a signature block, empty"


def test_the_binder_holds_every_chapter_stick_part_and_entry() -> None:
    job, said = shelf().river.job, text(kinds.BINDER, "text")
    for title in ("Acceptance summary", "Section decision", "Parts", "Cut sheet", "Break tests", "Sticks"):
        assert re.search(rf"^\d+  {title}$", said, re.MULTILINE), title
    for tag in (stick.tag for stick in job.sticks):
        assert re.search(rf"^\d+\.\d+  {tag}: ", said, re.MULTILINE), tag
    joined = " ".join(said.split())
    assert all(part.name in joined for part in job.parts)
    assert all(f"{part.name}: {part.quantity} wanted" in joined for part in job.parts if part.critical)
    last = re.findall(r"^ +(\d+)  2026-", said[said.rindex("Everything accepted") :], re.MULTILINE)
    assert last == [str(number) for number in range(1, len(shelf().record) + 1)]


def test_the_sources_are_those_that_are_named_and_no_others() -> None:
    sheet = binder.sheet(shelf().river, shelf().record, WOODS, DAY, shelf().sources)
    sources = next(section for section in sheet.sections if section.title == "Sources")
    table = sources.blocks[0]
    assert isinstance(table, Table)
    keys = {row[0] for row in table.rows}
    body = " ".join(paper.texts(Sheet("", "", "", sheet.head, sheet.sections[:-1])))
    assert keys == {key for key in shelf().sources if re.search(rf"\b{key}\b", body)}


def test_the_working_of_every_stick_only_where_it_is_asked_for() -> None:
    small = kinds.Shelf(ripped(), (), WOODS, {})
    short, whole = (kinds.text_of(kinds.BINDER, "text", small, retraced=one) for one in (False, True))
    assert whole.count("submerged share") == len(small.river.rack) and "submerged share" not in short
    assert binder.NO_STEPS.split(";")[0] in " ".join(short.split())
    assert binder.NO_STEPS.split(";")[0] not in " ".join(whole.split())


def test_a_result_and_a_gravity_have_their_basis_beside_them() -> None:
    results = re.search(r"^Results$(.*?)^$", text(kinds.BREAKS, "text"), re.DOTALL | re.MULTILINE)
    assert results is not None
    head, *rows = results[1].strip("\n").splitlines()
    assert head.split() == ["coupon", "test", "wood", "moisture", "result,", "as", "tested"]
    assert sum("9.5 %" in row for row in rows) == len(shelf().river.job.coupons) > 0
    assert "G dry,95 % band" in text(kinds.ACCEPTANCE, "csv").splitlines()[0]
    assert f"G dry: {wording.BASIS}" in text(kinds.ACCEPTANCE, "text")


def test_what_is_cut_apart_or_turned_is_not_left_alone_at_the_end_of_a_page() -> None:
    """Labels stand in lines of text, which every browser parts; a table turned on its side is kept whole."""
    page = text(kinds.LABELS, "html")
    assert re.search(r"\.tag \{[^}]*inline-block", page) and ".tags {" not in page
    page = text(kinds.BREAKS, "html")
    assert re.search(r"table\.turned \{[^}]*break-inside: avoid", page)
    turned = re.findall(r'<table class="turned">\s*<tbody>\s*<tr><td>(blow|load)</td>', page)
    assert len(turned) == page.count("<td>blow</td>") + page.count("<td>load</td>") > 0


def test_an_empty_job_has_every_sheet() -> None:
    empty = kinds.Shelf(flow(Job("Empty"), WOODS), (), WOODS, load().sources)
    for kind in kinds.KINDS:
        for form in kinds.WRITERS:
            if kind != kinds.STICK:
                said = kinds.text_of(kind, form, empty)
                assert form == "csv" or "Empty" in said, (kind, form)


def test_nasty_names_are_text_in_every_format() -> None:
    nasty = kinds.Shelf(ripped(), (), WOODS, load().sources)
    for kind in (kinds.BINDER, kinds.ACCEPTANCE, kinds.LABELS, kinds.CUTS):
        page = kinds.text_of(kind, "html", nasty)
        assert NASTY not in page and NASTY in "".join(Page(page).said)
    for kind in (kinds.LABELS, kinds.CUTS):
        assert NASTY in " ".join(kinds.text_of(kind, "text", nasty).split())


# --- names and formats ---------------------------------------------------------------------------------


def test_kinds_and_formats_are_asked_for_by_name() -> None:
    assert kinds.kind_of("bi") == kinds.BINDER and kinds.kind_of("Cuts") == kinds.CUTS
    for wrong in ("", "s", "sheet"):
        with pytest.raises(UnknownName):
            kinds.kind_of(wrong)
    assert [kinds.form_of(f"a{end}") for end in (".html", ".htm", ".MD", ".txt", ".csv", ".jsonl")] == [
        *("html", "html", "md", "text", "csv", "jsonl")
    ]
    with pytest.raises(BadInput, match=r"\.html"):
        kinds.form_of("binder.pdf")
    with pytest.raises(Refusal, match="only the record"):
        kinds.text_of(kinds.BINDER, "jsonl", shelf())
    with pytest.raises(UnknownName, match="A-01"):
        kinds.text_of(kinds.STICK, "html", shelf(), "A-1")


@given(st.text(max_size=80))
@settings(max_examples=50, deadline=None)
def test_the_name_of_a_file_never_leaves_its_folder(name: str) -> None:
    made = kinds.file_name(name, kinds.BINDER)
    assert not set(made) & set('/\\:*?"<>|\x00 ') and made.isprintable()
    assert made.endswith("binder.html") and not made.startswith((".", "-")) and len(made) < 80
