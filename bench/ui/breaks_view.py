"""The Breaks screen: the coupons, what each test is set up with, and what came of it."""

from collections.abc import Sequence

from textual.binding import Binding
from textual.content import Content

from bench.core import breaks, checking, working_breaks
from bench.core.coupon import DROP, PULLS, TESTS, Coupon
from bench.core.edits import Edit, PutCoupon, RemoveCoupon
from bench.core.errors import BadInput, UnknownName
from bench.core.frozen import replace
from bench.core.records import Job, Species, inches, with_field
from bench.core.steps import Step
from bench.sheets import breaking, coupon_cells, kinds
from bench.sheets.tracing import STICK
from bench.ui.drawing import DIM, WRONG, line, wrapped
from bench.ui.empty import Empty
from bench.ui.files import Files
from bench.ui.grid import Column, Grid
from bench.ui.listing import SortKey
from bench.ui.messages import GoToTest
from bench.ui.naming import read_as, species_key
from bench.ui.writing_out import Papers, WritingSheets

NOTHING = inches("0")  # no size yet; a coupon with it is refused


class BreaksView(Grid[Coupon], WritingSheets):
    """Enter, change and remove coupons."""

    TITLE = "BREAKS"
    KIND = "coupon"
    EMPTY = Empty(f"No coupons yet. {breaking.CAUTION}", ("list.add", "adds the first coupon"))

    BINDINGS = [
        Binding("v", "test", "The test", id="breaks.test", tooltip="The test of this coupon, blow by blow"),
        Binding("x", "to_file", "To file", id="breaks.to-file", tooltip="The report of all tests, to a file"),
    ]

    def __init__(self, woods: dict[str, Species], files: Files, papers: Papers) -> None:
        super().__init__(id="breaks")
        self.woods, self.files, self.papers = woods, files, papers

    # --- the columns ---------------------------------------------------------------------------------

    def columns(self) -> Sequence[Column]:
        size = "of the coupon: 1/2, .500, 12.7 mm"
        return (
            Column("tag", "coupon", 9, "a name of your own", asked=True),
            Column("test", "test", 6, "drop, bend, slide or glue", choices=TESTS, asked=True),
            Column("wood", "cut from", 12, "the stick it was cut from, or a species", asked=True),
            Column("width", "width", 7, f"across the blow or load, {size}", asked=True),
            Column("depth", "depth", 7, f"along the blow or load, {size}", asked=True),
            Column("result", "result", 24),
            Column("span", "span", 7, "between the supports"),
            Column("weight", "weight", 7, "dropped or hung on: 2 lb, 900 g"),
            Column("steps", "heights", 16, coupon_cells.HEIGHTS_WANTED),
            Column("striker", "striker", 8, "radius of what strikes; empty: not known"),
            Column("deflection", "deflected", 9, "under the highest blow it took whole", measured=True),
            Column("load", "load", 9, "greatest: 120 lbf, 550 N; empty: of the readings", measured=True),
            Column("reach", "reach", 8, "from the jaw to the weight when it broke", measured=True),
            Column("jaw", "jaw", 7, "how much of the stick is held; empty: not known"),
            Column("pull", "glue line in", 12, "", choices=PULLS),
            Column("glued", "glued", 7, "length of the glue line"),
            Column("scarf", "scarf", 6, "slope of a scarf that is pulled or bent: 1:12"),
            Column("fibre_one", "fibre 1", 8, "share of one face with torn wood, %", measured=True),
            Column("fibre_two", "fibre 2", 8, "share of the other face, %", measured=True),
            Column("moisture", "moisture", 8, "%; empty: not measured"),
            Column("mass", "mass", 8, "of the coupon: 21.4 g", measured=True),
            Column("length", "length", 7, "of the coupon when it was weighed"),
            Column("lot", "lot", 8, "empty: that of the stick"),
            Column("group", "group", 10, "a word of your own, for comparing"),
            Column("aside", "set aside", 12, "why it does not count; empty: it counts", measured=True),
            Column("taken", "date", 10, "2026-03-14", measured=True),
            Column("note", "note", 20, "anything", measured=True),
        )

    @property
    def _coupons(self) -> tuple[Coupon, ...]:
        return self.river.job.coupons if self.river else ()

    def _result(self, row: int) -> breaks.Result:
        assert self.river is not None
        return self.river.coupons[row]

    def names(self) -> tuple[str, ...]:
        return tuple(coupon.tag for coupon in self._coupons)

    def taken(self, job: Job) -> tuple[str, ...]:
        return tuple(coupon.tag for coupon in job.coupons)

    def texts(self, row: int) -> dict[str, tuple[str, str]]:
        coupon = self._coupons[row]
        texts = {}
        for column in self.columns():
            if column.name == "result":
                continue
            text = coupon_cells.text_of(coupon, column.name)
            if not coupon_cells.used(coupon, column.name):
                texts[column.name] = ("", DIM)  # of no use to this test
            elif column.name == "wood" and not coupon.stick and text in self.woods:
                texts[column.name] = (self.woods[text].name, "")
            else:
                texts[column.name] = (text or "--", "")
        texts["result"] = breaking.short(self._result(row), self.system), ""
        return texts

    def cell_text(self, row: int, column: Column) -> str:
        if column.name == "result":
            return ""  # worked out, never typed
        return coupon_cells.text_of(self._coupons[row], column.name)

    def sort_key(self, row: int, column: Column) -> SortKey:
        if column.name in coupon_cells.MEASURED:
            typed = getattr(self._coupons[row], column.name)
            return None if typed is None else float(typed.si)
        return super().sort_key(row, column)

    # --- the records ---------------------------------------------------------------------------------

    def record(self, job: Job, name: str) -> Coupon:
        coupon = job.coupon(name)
        if coupon is None:
            raise UnknownName("coupon", name)
        return coupon

    def template(self) -> Coupon:
        if self.listed:
            return self._unmeasured(self._coupons[self.row])
        return Coupon("", DROP, NOTHING, NOTHING)

    @staticmethod
    def _unmeasured(coupon: Coupon) -> Coupon:
        """The same set-up, without what was seen of this one."""
        fresh = replace(
            coupon, blows=(), points=(), aside="", note="", load=None, reach=None, deflection=None
        )
        return replace(fresh, fibre_one=None, fibre_two=None, mass=None, taken="")

    def copied(self, record: Coupon, name: str) -> Coupon:
        return replace(self._unmeasured(record), tag=name)

    def with_cell(self, record: Coupon, column: Column, text: str) -> Coupon:
        name = column.name
        if name in coupon_cells.MEASURED:
            return with_field(record, name, coupon_cells.changed(record, name, text, self.system, read_as))
        if name == "wood":
            return self._cut_from(record, text.strip())
        if name == "steps":
            return replace(record, steps=coupon_cells.read_heights(text, self.system))
        if name == "test":
            return replace(record, test=_test(text))
        return with_field(record, name, text.strip())

    def _cut_from(self, record: Coupon, text: str) -> Coupon:
        """A stick of the rack by its tag, else a species."""
        stick = self.accepted.stick(text)
        if stick is not None:
            return replace(record, stick=stick.tag, species="", lot="")
        if not text:
            return replace(record, stick="", species="")
        return replace(record, stick="", species=species_key(text, self.woods))

    def checked(self, record: Coupon, column: Column) -> None:
        if column.name == "tag":
            checking.name("coupon", record.tag)
            checking.unused("coupon", record.tag, self.names())
        elif column.name in ("width", "depth"):
            checking.size(column.name, getattr(record, column.name))

    def put(self, record: Coupon, was: str) -> Edit:
        return PutCoupon(record, was=was)

    def removed(self, name: str) -> Edit:
        return RemoveCoupon(name)

    def steps(self) -> tuple[Step, ...]:
        """The working of the highlighted coupon."""
        return working_breaks.of_result(self._result(self.row)) if self.listed else ()

    def traced(self) -> tuple[str, str] | None:
        stick = self._coupons[self.row].stick if self.listed else ""
        return (STICK, stick) if stick else super().traced()

    # --- beside the list -----------------------------------------------------------------------------

    def action_test(self) -> None:
        """The test of the highlighted coupon on the whole screen."""
        if self.listed:
            self.post_message(GoToTest(self.here))

    def action_to_file(self) -> None:
        """Ask for a path, and write the report of all tests there."""
        if self.river is not None:
            self.write_sheet(kinds.BREAKS, done="report written")

    def foot(self, width: int) -> list[Content]:
        found = self._result(self.row)
        said = [(text, "") for text in breaking.lines(found, self.system)[:3]]
        said += [(text, WRONG) for text in breaking.doubts(found)[:2]]
        said.append((breaking.CAUTION, DIM))
        return [line((part, style)) for text, style in said for part in wrapped(text, width, "  ")]


def _test(text: str) -> str:
    wanted = text.strip().lower()
    known = [test for test in TESTS if wanted and test.startswith(wanted)]
    if len(known) != 1:
        raise BadInput("test", text, "is no test here", ", ".join(TESTS))
    return known[0]
