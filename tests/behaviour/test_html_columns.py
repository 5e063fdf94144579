"""No table of a printed sheet is wider than the paper, whatever stands in it: A4 and Letter."""

from html.parser import HTMLParser

import pytest

from bench import units
from bench.core.edits import PutPart, PutStick, StartJob
from bench.core.history import EDIT, EMPTY, Entry
from bench.core.records import Part, Species, Stick, Typed
from bench.core.river import flow
from bench.sheets import binder, writing_html
from bench.sheets.paper import Section, Sheet, table

# What is left between the margins of the page, upright: the narrower of A4 and Letter [mm].
A4, LETTER = 210 - 28, 215.9 - 28
EM = 8.5 * 25.4 / 72  # size of the letters in a table [mm]
WIDE = frozenset("WMwm%@GN")
PADDED = 2 * 1.2 + 0.2  # of a cell, with its line [mm]


def wide(text: str) -> float:
    """A bit more than the widest that a line of text is in a plain sans serif [mm]."""
    return sum(EM * (1.0 if letter in WIDE else 0.6) for letter in text)


class Tables(HTMLParser):
    """The least width of every table, as a browser lays it out: its columns hold what cannot be broken."""

    def __init__(self) -> None:
        super().__init__()
        self.widths: list[float] = []
        self.columns: list[float] = []
        self.pieces: list[str] | None = None
        self.whole, self.place = False, 0

    def handle_starttag(self, tag: str, attrs) -> None:
        if tag == "table":
            self.columns = []
        elif tag == "tr":
            self.place = 0
        elif tag in ("td", "th"):
            self.pieces, self.whole = [""], dict(attrs).get("class") in ("figure", "number") and tag == "td"
        elif tag == "wbr" and self.pieces is not None:
            self.pieces.append("")

    def handle_data(self, data: str) -> None:
        if self.pieces is not None:
            self.pieces[-1] += data

    def handle_endtag(self, tag: str) -> None:
        if tag in ("td", "th") and self.pieces is not None:
            words = ["".join(self.pieces)] if self.whole else [w for p in self.pieces for w in p.split()]
            least = max(map(wide, words), default=0) + PADDED
            self.columns += [0.0] * (self.place + 1 - len(self.columns))
            self.columns[self.place] = max(self.columns[self.place], least)
            self.place, self.pieces = self.place + 1, None
        elif tag == "table":
            self.widths.append(sum(self.columns))


def widths(page: str) -> list[float]:
    tables = Tables()
    tables.feed(page)
    return tables.widths


def length(text: str) -> Typed:
    return units.read("length", text, "in")


@pytest.fixture
def page(woods: dict[str, Species]) -> str:
    """The binder of a job with the longest names and sizes that it takes."""
    long, side = "W" * 40, length("1 63/64")
    edits = [
        StartJob("Wing"),
        PutStick(Stick(long, "douglas_fir_coast", length("394 371/1000"), side, side, lot="L" * 40)),
        PutPart(
            Part(
                long,
                length("394 371/1000"),
                side,
                side,
                1000,
                species="douglas_fir_coast",
                critical=True,
                note="N" * 100,
                group="G" * 40,
                grain="edge grain " * 9,
                use="spar_flange",
            )
        ),
    ]
    history, record = EMPTY, []
    for edit in edits:
        history = history.accept(edit)
        record.append(("2031-05-01T10:00:00", Entry(EDIT, edit)))
    return writing_html.write(binder.sheet(flow(history.job, woods), record, woods))


def test_no_table_of_the_binder_runs_over_the_edge(page: str) -> None:
    found = widths(page)
    assert len(found) > 5 and max(found) <= min(A4, LETTER), [round(width) for width in found]


def test_a_long_name_is_whole_when_it_is_read_again(page: str) -> None:
    assert "<wbr>" in page and "W" * 40 in page.replace("<wbr>", "")


def test_a_word_that_fits_is_not_broken_and_what_is_broken_is_escaped() -> None:
    rows = (("compression failure", "a<b&" * 10, "394 371/1000 in"),)
    sheet = Sheet("test", "Wing", "", sections=(Section("S", (table(("one", "two", ":three"), rows),)),))
    page = writing_html.write(sheet)
    assert "<td>compression failure</td>" in page and '<td class="figure">394 371/1000 in</td>' in page
    assert "a&lt;b&amp;a&lt;b&amp;<wbr>" in page and "a<b" not in page
