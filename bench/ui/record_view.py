"""The Record screen: every accepted change, sought by stick, part, kind, day or text; and sheets."""

from collections.abc import Callable, Sequence

from textual.binding import Binding

from bench.core import parcels, sifting
from bench.core.differing import differences
from bench.core.frozen import replace
from bench.core.sifting import Wanted
from bench.sheets import parcel_file
from bench.sheets.differing import line as difference_line
from bench.sheets.tracing import PART, STICK
from bench.ui.between import Between
from bench.ui.drawing import DIM
from bench.ui.files import Files
from bench.ui.messages import LookBack, OpenParcel, Say
from bench.ui.picked import Picked
from bench.ui.read_record import AT_ONCE, FEW, ReadRecord
from bench.ui.remembering import AHEAD, Remembering
from bench.ui.writing_out import Papers, WritingSheets

MOST = 6  # differences told of one entry


class RecordView(Picked, WritingSheets):
    """Reads the record; packs the job or a lot for another job, and opens what another packed."""

    BINDINGS = [
        Binding(
            "slash", "only", "Only", id="record.only", tooltip="Only of a stick, part, kind, day or text",
            key_display="/",
        ),
        Binding("n", "alike", "Alike", id="record.alike", tooltip="Only of the same stick, part, kind, day"),
        Binding("enter", "back", "As it was", id="record.earlier", tooltip="The job as it was after this"),
        Binding("x", "out", "To file", id="record.out", tooltip="The binder, or any sheet, into a file"),
        Binding("k", "pack", "Pack", id="record.pack", tooltip="The job or a lot into a parcel"),
        Binding("j", "bring", "Bring in", id="record.bring", tooltip="A parcel of another job into this one"),
    ]  # fmt: skip

    def __init__(
        self,
        read: ReadRecord,
        earlier: Remembering,
        files: Files,
        papers: Papers,
        now: Callable[[], str],
    ) -> None:
        """Args:
        read: the record as far as it has been read.
        earlier: tells the job as it was.
        files: reads and writes the files that the user names.
        papers: what sheets are made from.
        now: the time, ISO.
        """
        super().__init__(id="record")
        self.read, self.earlier, self.files, self.now = read, earlier, files, now
        self.papers = papers
        self.wanted = Wanted()
        self._shown: Sequence[int] = ()  # entries by their place in the record, the newest first
        self._found: list[int] = []  # the same where not all are wanted
        self._top = self._left = 0  # entries when seeking began, and those that were not sought through yet
        self._seeking = Between(self, lambda: self._seek(FEW), self.redraw)
        self._like: tuple[Wanted, ...] = ()  # what Alike goes through
        self._told: tuple[int, list[str]] = (-1, [])

    # --- the entries ---------------------------------------------------------------------------------

    def _look(self) -> None:
        """Which entries are shown: the new ones too. A long record is sought through between the keys."""
        count = len(self.read)
        if self.wanted == Wanted():
            self._shown, self._left = range(count - 1, -1, -1), 0
        else:
            if self._top < count:
                self._found[:0] = self._wanted_of(self._top, count)
                self._top = count
            if self._left:
                self._seeking.go_on()
            self._shown = self._found
        self.place = min(self.place, max(0, len(self._shown) - 1))

    def _seek(self, most: int) -> bool:
        """Seek through so many more entries, the newest first; whether any are left."""
        lowest = max(0, self._left - most)
        self._found += self._wanted_of(lowest, self._left)
        self._left = lowest
        return bool(lowest)

    def _wanted_of(self, first: int, end: int) -> list[int]:
        read, wanted = self.read, self.wanted
        row = range(end - 1, first - 1, -1)
        return [one for one in row if wanted.holds(read.about(one), read.at(one), read.said(one))]

    def count(self) -> int:
        self._look()
        return len(self._shown)

    def _here(self) -> int:
        """The highlighted entry, by its place in the record."""
        return self._shown[min(self.place, len(self._shown) - 1)]

    def traced(self) -> tuple[str, str] | None:
        about = self.read.about(self._here()) if self.count() else None
        if about is None or not (about.parts or about.sticks):
            return super().traced()
        return (PART, about.parts[0]) if about.parts else (STICK, about.sticks[0])

    # --- the picture ---------------------------------------------------------------------------------

    def head(self) -> str:
        only = f", only {self.wanted.write()}" if self.wanted != Wanted() else ""
        count = self.count()
        left = f", {self._left:,} not sought yet" if self._left else ""
        return f"RECORD  {count} of {len(self.read)} entries{left}{only}, the newest first"

    def row(self, place: int, width: int) -> Sequence[tuple[str, str]]:
        entry = self._shown[place]
        at = self.read.at(entry).replace("T", " ")[: 16 if width < 100 else 19]
        return ((f"{entry + 1:>5} ", DIM), (f"{at}  ", DIM), (self.read.said(entry), ""))

    def foot(self, width: int) -> Sequence[tuple[str, str]]:
        if not self._shown:
            return ()
        entry = self._here()
        earlier = self.earlier
        if self._told[0] != entry:
            if not (earlier.at_hand(entry) and earlier.at_hand(entry + 1)):
                earlier.want(entry + 1, self.redraw)
                return [(self.read.said(entry), "bold"), ("what it changed is being worked out", DIM)]
            self._told = (entry, self._differences(entry))
            if not earlier.at_hand(max(0, entry - AHEAD)):
                earlier.want(entry - AHEAD)
        return [(self.read.said(entry), "bold"), *((text, "") for text in self._told[1])]

    def _differences(self, entry: int) -> list[str]:
        """From what to what."""
        said = [
            difference_line(one) for one in differences(self.earlier.job(entry), self.earlier.job(entry + 1))
        ]
        more = [f"and {len(said) - MOST} more in the same change"] if len(said) > MOST else []
        return [*said[:MOST], *more] or ["nothing of the job itself"]

    def empty(self) -> str:
        then = "<record.only> asks for another, <record.alike> shows all again"
        return f"No entry of {self.wanted.write()}. {then}."

    # --- keys ----------------------------------------------------------------------------------------

    def action_out(self) -> None:
        """Write the binder, or any other sheet of the job."""
        about = self.read.about(self._here()).sticks if self.count() else ()
        tag = about[0] if about and self.river is not None and self.river.judged(about[0]) else ""
        self.ask_sheet(tag or (self.river.tag if self.river is not None else ""))

    def action_only(self) -> None:
        """Ask which entries are wanted."""

        def take(text: str) -> None:
            self._narrow(sifting.read(text))
            self.post_message(Say(""))

        self.ask_line("only", f"{sifting.FORM}, or a text; empty shows all", self.wanted.write(), take)

    def _narrow(self, wanted: Wanted) -> None:
        here = self._here() if self._shown else 0
        self.wanted, self._found = wanted, []
        self._top = self._left = len(self.read)
        if wanted != Wanted():
            self._seek(AT_ONCE)
        self._look()
        self.place = self._shown.index(here) if here in self._shown else 0
        self.redraw()

    def action_alike(self) -> None:
        """Only what is about the same stick; again: the same part, coupon, kind, day; then all."""
        if self.wanted not in self._like:
            self._like = self._alike() if self._shown else (Wanted(),)
            self._narrow(self._like[0])
            return
        place = self._like.index(self.wanted) + 1
        self._narrow(self._like[place] if place < len(self._like) else Wanted())
        if place >= len(self._like):
            self._like = ()

    def _alike(self) -> tuple[Wanted, ...]:
        about, day = self.read.about(self._here()), self.read.at(self._here())[:10]
        found = [
            *(Wanted(stick=tag) for tag in about.sticks[:3]),
            *(Wanted(part=name) for name in about.parts[:3]),
            *(Wanted(coupon=tag) for tag in about.coupons[:3]),
            *(Wanted(kind=kind) for kind in about.kinds),
            replace(Wanted(), day=day),
        ]
        return tuple(dict.fromkeys(found))

    def action_pack(self) -> None:
        """Ask for a lot, then for a path, and write the parcel there."""

        def take(text: str) -> None:
            parcel = parcels.pack(self.accepted, self.now()[:10], text)
            offered = f"{parcel_file.stem(parcel)}{parcel_file.ENDING}"
            self.write_out(offered, parcel_file.write(parcel), f"{parcel.what} packed")

        lots = ", ".join(dict.fromkeys(stick.lot for stick in self.accepted.sticks if stick.lot))
        known = f"; lots: {lots}" if lots else ""
        self.ask_line("pack which lot", f"the name of a lot; empty packs the whole job{known}", "", take)

    def action_bring(self) -> None:
        """Ask for a path, and show what is in the parcel there."""

        def take(path: str) -> None:
            self.post_message(OpenParcel(parcel_file.read(self.files.read(path), path.strip())))

        self.ask_line("parcel from file", "the path of a parcel", "", take)

    def action_back(self) -> None:
        """Look at the job as it was after the highlighted entry."""
        if self._shown:
            self.post_message(LookBack(self._here() + 1))
