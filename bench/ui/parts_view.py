"""The Parts screen: the drawing's list, with each section in the wood it will be made of."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from textual.content import Content

from bench import units
from bench.core.edits import Edit, PutPart, RemovePart
from bench.core.records import Part, Species, inches
from bench.core.river import SizedPart
from bench.sheets import wording
from bench.ui.drawing import DIM, WRONG, line, wrapped
from bench.ui.grid import Column, Grid
from bench.ui.species_names import species_key

AS_DRAWN = Fraction(254, 640_000_000)  # fine enough to write any drawn size as it stands


class PartsView(Grid):
    """Enter, change and remove parts."""

    TITLE = "PARTS"
    EMPTY = "No parts yet. Press a to add one: its name first, then each cell with Enter or a number."

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="parts")
        self.woods = woods

    def columns(self) -> Sequence[Column]:
        return (
            Column("name", "part", 15, "a name of your own"),
            Column("quantity", "pieces", 6, "a whole number"),
            Column("length", "length", 10, "34 3/8, 2' 6\", 900 mm"),
            Column("width", "width", 8, "plan section: 3/4, .407, 10.3 mm"),
            Column("depth", "depth", 8, "plan section: 3/4, .407, 10.3 mm"),
            Column("new", "in new wood", 21),
            Column("made", "cut", 3),
            Column("critical", "critical", 8, choices=("no", "yes")),
            Column("species", "drawn in", 15, "species by its key, as in Species"),
            Column("minimum_sg", "least G", 7, f"{wording.BASIS}; empty for none"),
            Column("note", "note", 24, "anything"),
        )

    @property
    def _sized(self) -> tuple[SizedPart, ...]:
        return self.river.parts if self.river else ()

    def names(self) -> tuple[str, ...]:
        return tuple(sized.part.name for sized in self._sized)

    def _system(self) -> str:
        return self.river.job.settings.units if self.river else "in"

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
            "critical": ("yes" if part.critical else "no", ""),
            "species": (species.name if species else part.species, ""),
            "minimum_sg": (part.minimum_sg.text if part.minimum_sg else "--", ""),
            "note": (part.note or "--", ""),
        }

    def _new(self, sized: SizedPart) -> str:
        if not sized.resized:
            return "as drawn"
        assert self.river is not None
        grid, system = self.river.job.settings.grid.exact, self._system()
        return f"{units.shop(sized.width, grid, system)} x {units.shop(sized.depth, grid, system)}"

    def cell_text(self, row: int, column: Column) -> str:
        part = self._sized[row].part
        plain = {
            "note": part.note,
            "species": part.species,
            "minimum_sg": part.minimum_sg.text if part.minimum_sg else "",
        }
        return plain[column.name] if column.name in plain else super().cell_text(row, column)

    def changed(self, row: int, column: Column, text: str) -> Edit:
        part, system = self._sized[row].part, self._system()
        name = column.name
        if name in ("length", "width", "depth"):
            new = replace(part, **{name: units.read("length", text, system)})
        elif name == "quantity":
            new = replace(part, quantity=int(units.read("count", text).si))
        elif name == "critical":
            new = replace(part, critical=text == "yes")
        elif name == "species":
            new = replace(part, species=species_key(text, self.woods))
        elif name == "minimum_sg":
            new = replace(part, minimum_sg=units.read("gravity", text) if text.strip() else None)
        else:
            new = replace(part, **{name: text.strip()})
        return PutPart(new, was=part.name)

    def added(self, text: str) -> Edit:
        if self._sized:
            like = self._sized[self.row].part
            return PutPart(replace(like, name=text, note=""))
        plan = self.river.job.section if self.river else None
        if plan is None:
            return PutPart(Part(text, inches("12"), inches("3/4"), inches("3/4")))
        return PutPart(Part(text, inches("12"), plan.width, plan.depth, species=plan.plan))

    def removed(self, row: int) -> Edit:
        return RemovePart(self._sized[row].part.name)

    def foot(self, width: int) -> list[Content]:
        sized = self._sized[self.row]
        plan = self.river.plan if self.river else None
        out = next((out for out in plan.unplaced if out.part == sized.part.name), None) if plan else None
        if out is not None:
            text = f"{sized.part.name}: {out.quantity} without a place: {wording.unplaced(out, sized.barred_by)}"
            return [line((part, WRONG)) for part in wrapped(text, width)[:2]]
        where = [stick.tag for stick in plan.sticks for piece in stick.pieces if piece.part == sized.part.name] if plan else []
        text = f"{sized.part.name}: {sized.made} cut, {len(where)} laid out on {', '.join(dict.fromkeys(where)) or 'nothing'}"
        return [line(part) for part in wrapped(text, width)[:2]]
