"""The rows of the Parts screen: the drawing's list, with each section in the wood it will be made of."""

from collections.abc import Sequence
from fractions import Fraction

from textual.content import Content

from bench import units
from bench.core import checking, grading
from bench.core.edits import Edit, PutPart, RemovePart
from bench.core.errors import UnknownName
from bench.core.frozen import replace
from bench.core.limits import USES
from bench.core.records import CutMade, Job, Part, Species, inches, with_field
from bench.core.river import SizedPart
from bench.sheets import inspecting, left_out, parts_cells, wording
from bench.sheets.sections import SHAPE
from bench.ui.drawing import DIM, WRONG, fit, line, wrapped
from bench.ui.empty import Empty
from bench.ui.files import Files
from bench.ui.listing import Column, SortKey
from bench.ui.naming import read_as, species_key
from bench.ui.table_list import TableList

NOTHING = inches("0")  # no size yet; a part with it is refused
LOW = 12  # lines of a list that has room for half of what is said below it
_NO_YES = ("no", "yes")
_TYPED = ("length", "width", "depth")


class PartsRows(TableList[Part]):
    """Enter, change and remove parts."""

    TITLE = "PARTS"
    KIND = "part"
    EMPTY = Empty(
        "No parts yet.",
        ("list.add", "adds the first part of the drawing, asked for cell by cell"),
        (("parts.from-file", "takes a list from a file"),),
    )

    def __init__(self, woods: dict[str, Species], files: Files) -> None:
        super().__init__("parts", files)
        self.woods = woods
        self._cuts: tuple[CutMade, ...] = ()  # of which `_cut_to` is worked out
        self._cut_to: dict[str, list[tuple[Fraction, Fraction]]] = {}  # part -> sections it was dressed to

    # --- the columns ---------------------------------------------------------------------------------

    def columns(self) -> Sequence[Column]:
        becomes = "small part (cap strip, longeron, stiffener), spar flange, or solid spar"
        section = "plan section: 3/4, .407, 10.3 mm"
        uses = tuple(inspecting.use_name(use) for use in USES)
        wood = "species by key or name, as in Species: sitka_spruce, white ash"
        return (
            Column("name", parts_cells.PART, 15, "a name of your own", asked=True),
            Column("quantity", parts_cells.PIECES, 6, "a whole number", asked=True, figure=True),
            Column("length", "length", 10, "finished: 34 3/8, 2' 6\", 900 mm", asked=True),
            Column("width", "width", 8, section, asked=True),
            Column("depth", "depth", 8, section, asked=True),
            Column("new", "in new wood", 17),
            Column("made", "cut", 3),
            Column("use", parts_cells.BECOMES, 11, becomes, choices=uses, asked=True),
            Column("critical", parts_cells.CRITICAL, 8, choices=_NO_YES),
            Column("species", parts_cells.DRAWN_IN, 15, wood),
            Column("minimum_sg", parts_cells.LEAST, 7, f"{wording.BASIS}; empty for none"),
            Column("best", parts_cells.BEST, 11, choices=_NO_YES),
            Column("scarf", parts_cells.SCARF, 11, parts_cells.SCARF_WANTED),
            Column("no_joint", parts_cells.NO_JOINT, 18, parts_cells.NO_JOINT_WANTED),
            Column("grain", parts_cells.GRAIN, 20, "how the grain is to lie in it, in your words"),
            Column("group", parts_cells.GROUP, 12, "side, bay or assembly, in your words"),
            Column("note", parts_cells.NOTE, 24, "anything"),
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
        plain = {
            "name": part.name,
            "quantity": str(part.quantity),
            "length": part.length.text,
            "width": part.width.text,
            "depth": part.depth.text,
            "made": str(sized.made),
            "use": inspecting.use_name(part.use),
            "critical": _NO_YES[part.critical],
            "species": species.name if species else part.species,
            "minimum_sg": part.minimum_sg.text if part.minimum_sg else "--",
            "best": _NO_YES[part.best],
            "scarf": parts_cells.write_scarf(part) or "--",
            "no_joint": self._stretches(part) or "--",
            "grain": part.grain or "--",
            "group": part.group or "--",
            "note": part.note or "--",
            "piece_of": part.piece_of,  # in no column: / finds the lengths of a part by it
        }
        texts = {name: (text, "") for name, text in plain.items()}
        texts["new"] = self._new(sized)
        if part.piece_of:
            texts["name"] = (part.name, DIM)
        return texts

    def _stretches(self, part: Part) -> str:
        """Where no joint may lie, without the unit where it is the shop's."""
        unit = f" {self.system}"
        return ", ".join(
            f"{one.start.text.removesuffix(unit)}-{one.end.text.removesuffix(unit)}" for one in part.no_joint
        )

    def _new(self, sized: SizedPart) -> tuple[str, str]:
        """The section it is made to; one that is wholly cut keeps the one it was cut to."""
        cut_to = self._dressed(sized)
        if cut_to and cut_to != [(sized.width, sized.depth)]:
            return ", ".join(units.sides(*sides, self.system) for sides in cut_to), ""
        if sized.barred_by == grading.BY_SIZE:
            return "has no size", WRONG
        if not sized.resized:
            return "as drawn", DIM
        return units.sides(sized.width, sized.depth, self.system), ""

    def _dressed(self, sized: SizedPart) -> list[tuple[Fraction, Fraction]]:
        """The sections that the pieces were cut to, once all of them are cut."""
        if not sized.made or sized.made < sized.part.quantity or self.river is None:
            return []
        if self._cuts is not self.river.job.cuts:
            self._cuts, self._cut_to = self.river.job.cuts, {}
            for cut in self._cuts:
                if cut.width is not None and cut.depth is not None:
                    sections = self._cut_to.setdefault(cut.part, [])
                    if (cut.width, cut.depth) not in sections:
                        sections.append((cut.width, cut.depth))
        return self._cut_to.get(sized.part.name, [])

    def cell_text(self, row: int, column: Column) -> str:
        part = self._sized[row].part
        plain = {
            "species": part.species,
            "minimum_sg": part.minimum_sg.text if part.minimum_sg else "",
            "scarf": parts_cells.write_scarf(part),
            "no_joint": parts_cells.write_stretches(part.no_joint),
            "grain": part.grain,
            "group": part.group,
            "note": part.note,
        }
        return plain[column.name] if column.name in plain else super().cell_text(row, column)

    def sort_key(self, row: int, column: Column) -> SortKey:
        sized = self._sized[row]
        part = sized.part
        width, depth = (self._dressed(sized) or [(sized.width, sized.depth)])[0]
        keys: dict[str, SortKey] = {
            "quantity": float(part.quantity),
            "length": part.length.si,
            "width": part.width.si,
            "depth": part.depth.si,
            "new": float(width * depth),
            "made": float(sized.made),
            "minimum_sg": part.minimum_sg.si if part.minimum_sg else None,
            "scarf": part.scarf.si if part.scarf else None,
            "no_joint": float(sum(one.end.exact - one.start.exact for one in part.no_joint)) or None,
        }
        return keys[column.name] if column.name in keys else super().sort_key(row, column)

    # --- the records ---------------------------------------------------------------------------------

    def record(self, job: Job, name: str) -> Part:
        part = job.part(name)
        if part is None:
            raise UnknownName("part", name)
        return part

    def template(self) -> Part:
        if self.listed:
            # Stretches are of the length that is still to be typed.
            return replace(self._sized[self.row].part, note="", no_joint=(), piece_of="")
        plan = self.river.job.section.plan if self.river else "sitka_spruce"
        return Part("", NOTHING, NOTHING, NOTHING, species=plan)

    def copied(self, record: Part, name: str) -> Part:
        return replace(record, name=name, piece_of="")

    def with_cell(self, record: Part, column: Column, text: str) -> Part:
        system, name = self.system, column.name
        if name in _TYPED:
            return with_field(record, name, read_as(name, "length", text, system))
        if name == "quantity":
            return replace(record, quantity=int(read_as(column.title, "count", text).si))
        if name == "use":
            return replace(record, use=parts_cells.read_use(text))
        if name in ("critical", "best"):
            return with_field(record, name, text == "yes")
        if name == "species":
            return replace(record, species=species_key(text, self.woods))
        if name == "minimum_sg":
            typed = read_as(column.title, "gravity", text) if text.strip() else None
            return replace(record, minimum_sg=typed)
        if name == "scarf":
            slope, side = parts_cells.read_scarf(text)
            return replace(record, scarf=slope, scarf_side=side)
        if name == "no_joint":
            return replace(record, no_joint=parts_cells.read_stretches(text, system))
        return with_field(record, name, text.strip())

    def checked(self, record: Part, column: Column) -> None:
        if column.name == "name":
            checking.name("part", record.name)
            checking.unused("part", record.name, self.names())
        elif column.name in _TYPED:
            checking.size(column.name, getattr(record, column.name))

    def put(self, record: Part, was: str) -> Edit:
        return PutPart(record, was=was)

    def removed(self, name: str) -> Edit:
        return RemovePart(name)

    # --- about the highlighted part ------------------------------------------------------------------

    def foot(self, width: int) -> list[Content]:
        text, style = self._said(self._sized[self.row])
        room = 1 if self.size.height < LOW else 2
        shape, said = self._about_shape(), wrapped(text, width)
        if len(said) > room:
            said = [*said[: room - 1], fit(" ".join(said[room - 1 :]), width)]
        return [
            *(line((part, style)) for part in said),
            *(line((part, DIM)) for part in wrapped(shape, width)[:2]),
        ]

    def _said(self, sized: SizedPart) -> tuple[str, str]:
        """Where its pieces are, or why they have no place; and the style of that."""
        part, plan = sized.part, self.river.plan if self.river else None
        named = f"{part.name}, one length of {part.piece_of}, to be scarfed" if part.piece_of else part.name
        out = next((out for out in plan.unplaced if out.part == part.name), None) if plan else None
        if out is not None and self.river is not None:
            why = left_out.reason(self.river, sized, out)
            return f"{named}: {out.quantity} without a place: {why}", WRONG
        rows = plan.sticks if plan else ()
        where = [stick.tag for stick in rows for piece in stick.pieces if piece.part == part.name]
        tags = ", ".join(dict.fromkeys(where))
        said = [
            f"{sized.made} of {part.quantity} cut" + (f", {len(where)} laid out on {tags}" if where else "")
        ]
        held = [cut for cut in self.river.doubtful if cut.part == part.name] if self.river else []
        if held:
            said.insert(0, wording.doubtful(tuple(held)))
        kept = [cut for cut in self.river.outgrown() if cut.part == part.name] if self.river else []
        if kept:
            said.insert(0, wording.outgrown(tuple(kept), self.system))
        if part.critical:
            said.append("critical: it is placed before the others")
        return f"{named}: {'; '.join(said)}", ""

    def _about_shape(self) -> str:
        """What a section that is no solid rectangle means for the list; empty where it is one."""
        choice = self.river.section.choice if self.river else None
        if choice is None or choice.shape == "rectangle":
            return ""
        if choice.shape == "laminated":
            sides = units.sides(choice.width.exact, choice.depth.exact, self.system)
            return f"Section pane: laminated; of this list only parts drawn {sides} take its layers"
        return f"Section pane: {SHAPE[choice.shape]}; the parts of this list are sized as solid rectangles"
