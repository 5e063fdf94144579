"""The Parts screen: the drawing's list, with each section in the wood it will be made of."""

from collections.abc import Sequence
from dataclasses import replace

from textual.content import Content

from bench import units
from bench.core import checking
from bench.core.edits import Edit, PutPart, RemovePart
from bench.core.errors import BadInput, UnknownName
from bench.core.limits import USES
from bench.core.records import Job, Part, Species, inches, with_field
from bench.core.river import SizedPart
from bench.sheets import inspecting, wording
from bench.ui.drawing import DIM, WRONG, line, wrapped
from bench.ui.grid import Column, Grid
from bench.ui.listing import SortKey
from bench.ui.naming import read_as, species_key

NOTHING = inches("0")  # no size yet; a part with it is refused


class PartsView(Grid[Part]):
    """Enter, change and remove parts."""

    TITLE = "PARTS"
    KIND = "part"
    EMPTY = "No parts yet. Press a to add one."

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="parts")
        self.woods = woods

    def columns(self) -> Sequence[Column]:
        return (
            Column("name", "part", 15, "a name of your own", asked=True),
            Column("quantity", "pieces", 6, "a whole number", asked=True),
            Column("length", "length", 10, "34 3/8, 2' 6\", 900 mm", asked=True),
            Column("width", "width", 8, "plan section: 3/4, .407, 10.3 mm", asked=True),
            Column("depth", "depth", 8, "plan section: 3/4, .407, 10.3 mm", asked=True),
            Column("new", "in new wood", 17),
            Column("made", "cut", 3),
            Column(
                "use",
                "becomes",
                11,
                "small part (cap strip, longeron, stiffener), spar flange, or solid spar",
                choices=tuple(inspecting.use_name(use) for use in USES),
                asked=True,
            ),
            Column("critical", "critical", 8, choices=("no", "yes")),
            Column(
                "species", "drawn in", 15, "species by key or name, as in Species: sitka_spruce, white ash"
            ),
            Column("minimum_sg", "least G", 7, f"{wording.BASIS}; empty for none"),
            Column("note", "note", 24, "anything"),
        )

    @property
    def _sized(self) -> tuple[SizedPart, ...]:
        return self.river.parts if self.river else ()

    def names(self) -> tuple[str, ...]:
        return tuple(sized.part.name for sized in self._sized)

    def taken(self, job: Job) -> tuple[str, ...]:
        return tuple(part.name for part in job.parts)

    def texts(self, row: int) -> dict[str, tuple[str, str]]:
        sized = self._sized[row]
        part = sized.part
        species = self.woods.get(part.species)
        return {
            "name": (part.name, ""),
            "quantity": (str(part.quantity), ""),
            "length": (part.length.text, ""),
            "width": (part.width.text, ""),
            "depth": (part.depth.text, ""),
            "new": (self._new(sized), "" if sized.resized else DIM),
            "made": (str(sized.made), ""),
            "use": (inspecting.use_name(part.use), ""),
            "critical": ("yes" if part.critical else "no", ""),
            "species": (species.name if species else part.species, ""),
            "minimum_sg": (part.minimum_sg.text if part.minimum_sg else "--", ""),
            "note": (part.note or "--", ""),
        }

    def _new(self, sized: SizedPart) -> str:
        if not sized.resized:
            return "as drawn"
        return units.sides(sized.width, sized.depth, self.system)

    def cell_text(self, row: int, column: Column) -> str:
        part = self._sized[row].part
        plain = {
            "note": part.note,
            "species": part.species,
            "minimum_sg": part.minimum_sg.text if part.minimum_sg else "",
        }
        return plain[column.name] if column.name in plain else super().cell_text(row, column)

    def record(self, job: Job, name: str) -> Part:
        part = job.part(name)
        if part is None:
            raise UnknownName("part", name)
        return part

    def sort_key(self, row: int, column: Column) -> SortKey:
        sized = self._sized[row]
        part = sized.part
        keys: dict[str, SortKey] = {
            "quantity": float(part.quantity),
            "length": part.length.si,
            "width": part.width.si,
            "depth": part.depth.si,
            "new": float(sized.width * sized.depth),
            "made": float(sized.made),
            "minimum_sg": part.minimum_sg.si if part.minimum_sg else None,
        }
        return keys[column.name] if column.name in keys else super().sort_key(row, column)

    def template(self) -> Part:
        if self.listed:
            return replace(self._sized[self.row].part, note="")
        plan = self.river.job.section.plan if self.river else "sitka_spruce"
        return Part("", NOTHING, NOTHING, NOTHING, species=plan)

    def copied(self, record: Part, name: str) -> Part:
        return replace(record, name=name)

    def with_cell(self, record: Part, column: Column, text: str) -> Part:
        system, name = self.system, column.name
        if name in ("length", "width", "depth"):
            return with_field(record, name, read_as(name, "length", text, system))
        if name == "quantity":
            return replace(record, quantity=int(units.read("count", text).si))
        if name == "use":
            return replace(record, use=_use(text))
        if name == "critical":
            return replace(record, critical=text == "yes")
        if name == "species":
            return replace(record, species=species_key(text, self.woods))
        if name == "minimum_sg":
            return replace(record, minimum_sg=units.read("gravity", text) if text.strip() else None)
        return with_field(record, name, text.strip())

    def checked(self, record: Part, column: Column) -> None:
        if column.name == "name":
            checking.name("part", record.name)
            checking.unused("part", record.name, self.names())
        elif column.name in ("length", "width", "depth"):
            checking.size(column.name, getattr(record, column.name))

    def put(self, record: Part, was: str) -> Edit:
        return PutPart(record, was=was)

    def removed(self, name: str) -> Edit:
        return RemovePart(name)

    def foot(self, width: int) -> list[Content]:
        sized = self._sized[self.row]
        plan = self.river.plan if self.river else None
        out = next((out for out in plan.unplaced if out.part == sized.part.name), None) if plan else None
        if out is not None:
            why = wording.unplaced(out, sized.barred_by, self.system)
            text = f"{sized.part.name}: {out.quantity} without a place: {why}"
            return [line((part, WRONG)) for part in wrapped(text, width)[:2]]
        where = (
            [stick.tag for stick in plan.sticks for piece in stick.pieces if piece.part == sized.part.name]
            if plan
            else []
        )
        tags = ", ".join(dict.fromkeys(where)) or "nothing"
        text = f"{sized.part.name}: {sized.made} cut, {len(where)} laid out on {tags}"
        text += "; critical: it is placed before the others" if sized.part.critical else ""
        kept = [cut for cut in self.river.outgrown() if cut.part == sized.part.name] if self.river else []
        if kept:
            text = f"{sized.part.name}: {wording.outgrown(tuple(kept), self.system)}; {text}"
        return [line(part) for part in wrapped(text, width)[:2]]


def _use(text: str) -> str:
    """A use by the beginning of its name; raises BadInput."""
    wanted = " ".join(text.lower().split())
    found = [use for use in USES if wanted and inspecting.use_name(use).startswith(wanted)]
    if len(found) != 1:
        raise BadInput("becomes", text, "is no use", ", ".join(inspecting.use_name(use) for use in USES))
    return found[0]
