"""The sticks of the rack as rows of a list: their cells, what may be typed into them, and their drawing."""

from collections.abc import Mapping, Sequence

from textual.content import Content

from bench import units
from bench.core import checking
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.edits import Edit, PutStick, RemoveStick
from bench.core.errors import BadInput, Refusal, UnknownName
from bench.core.frozen import replace
from bench.core.judging import Judged
from bench.core.limits import SMALL_PART, SOLID_SPAR, SPAR_FLANGE
from bench.core.records import Inspection, Job, Species, Stick, Typed, inches, with_field
from bench.sheets import defects, inspecting, wording
from bench.ui.drawing import DIM, WORD_STYLE, WRONG, fit, line
from bench.ui.empty import Empty
from bench.ui.gravity_scale import LEGEND, WIDTH, scale
from bench.ui.grid import Column, Grid
from bench.ui.listing import SortKey, text_key
from bench.ui.messages import TakeInHand
from bench.ui.naming import read_as, read_percent, species_key
from bench.ui.sticks import drawn, legend

MOISTURE = "moisture, percent of oven-dry weight; empty if not measured"
NOTHING = inches("0")  # no size yet; a stick with it is refused
LOW = 12  # lines of a list that has room for half of what is said below it
SHORT = {SMALL_PART: "small", SPAR_FLANGE: "flange", SOLID_SPAR: "spar"}


class StockRows(Grid[Stick]):
    """Enter, change and remove sticks; the highlighted one is in hand on the Float pane."""

    TITLE = "STOCK"
    KIND = "stick"
    EMPTY = Empty(
        "The rack is empty.",
        ("list.add", "adds the first stick, asked for cell by cell"),
        (("stock.from-file", "takes a list from a file"),),
    )

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="stock")
        self.woods = woods
        self._named: tuple[tuple[Stick, ...], tuple[str, ...]] = ((), ())  # sticks, and their tags

    # --- the columns ---------------------------------------------------------------------------------

    def columns(self) -> Sequence[Column]:
        wood = "species by key or name, as in Species: sitka_spruce, white ash"
        section = "width x depth: 7/8 x 1-1/8, 19 x 38 mm, or one side of a square"
        return (
            Column("tag", "tag", 6, "a name of your own", asked=True),
            Column("species", "wood", 12, wood, asked=True),
            Column("length", "length", 8, "60, 34 3/8, 2' 6\", 900 mm", asked=True),
            Column("section", "section", 11, section, asked=True),
            Column("moisture", "moist.", 6, MOISTURE, asked=True, measured=True, figure=True),
            Column("gravity", "G dry", 5),
            Column("scale", "G on a scale", WIDTH),
            Column("uses", "good for", 12),
            Column("defects", "defects", 20, defects.WANTED_ALL),
            Column("lot", "lot", 12, "where it came from, in your words"),
            Column("note", "note", 24, "anything"),
            Column("variant", "class", 10, "growth region or class of the wood; empty for none"),
            Column("condemned", "condemned", 16, "why nothing is made of it; empty: it is used"),
        )

    @property
    def _rack(self) -> Sequence[Judged]:
        return self.river.rack if self.river else ()

    def names(self) -> tuple[str, ...]:
        sticks = self.river.job.sticks if self.river else ()
        if sticks is not self._named[0]:  # ten thousand of them: not listed anew for every key
            self._named = (sticks, tuple([stick.tag for stick in sticks]))
        return self._named[1]

    def taken(self, job: Job) -> tuple[str, ...]:
        return tuple(stick.tag for stick in job.sticks)

    def rests_on(self) -> object:
        return self.river.rack if self.river else None

    def made_of(self, row: int) -> object:
        return self._rack[row]

    def texts(self, row: int) -> dict[str, tuple[str, str]]:
        judged = self._rack[row]
        verdict = judged.verdict
        drawn_scale = scale(
            verdict.value,
            verdict.low,
            verdict.high,
            verdict.minimum.value if verdict.minimum else None,
            verdict.average.value if verdict.average else None,
        )
        return {
            **self._stick_texts(judged.stick),
            "gravity": (wording.gravity_short(verdict), ""),
            "scale": (drawn_scale, ""),
            "uses": good_for(judged.words),
        }

    def _stick_texts(self, stick: Stick) -> dict[str, tuple[str, str]]:
        """The cells of what is known without judging the stick."""
        species = self.woods.get(stick.species)
        return {
            "tag": (stick.tag, ""),
            "species": (species.name if species else stick.species, ""),
            "length": (self._bare(stick.length), ""),
            "section": (self._section(stick), ""),
            "moisture": (units.percent(stick.moisture.si) if stick.moisture else "--", ""),
            "defects": (defects.short(stick.defects), ""),
            "variant": (stick.variant or "--", ""),
            "lot": (stick.lot or "--", ""),
            "note": (stick.note or "--", ""),
            "condemned": (stick.condemned or "--", WRONG if stick.condemned else ""),
        }

    def holds(self, row: int, wanted: str) -> bool:
        # Ten thousand sticks are not judged anew to be sought through: their grade is known.
        if self.river is None:
            return False
        grade = self.river.rack.grade(row)
        texts = (*self._stick_texts(grade.stick).values(), _gravity(grade.value), good_for(grade.words))
        return any(wanted in text.casefold() for text, _ in texts)

    def _bare(self, typed: Typed) -> str:
        """A length as typed, without the unit where it is the shop's."""
        return typed.text.removesuffix(f" {self.system}")

    def _section(self, stick: Stick) -> str:
        sides = (self._bare(stick.width), self._bare(stick.depth))
        text = " x ".join(sides)
        return text if len(text) <= 11 else "x".join(sides)

    def sort_key(self, row: int, column: Column) -> SortKey:
        if self.river is None:
            return None
        if column.name == "scale":
            return self._rack[row].verdict.margin
        grade = self.river.rack.grade(row)
        stick, words = grade.stick, [grade.words[use] for use in SHORT]
        keys: dict[str, SortKey] = {
            "length": stick.length.si,
            "section": stick.width.si * stick.depth.si,
            "moisture": stick.moisture.si if stick.moisture else None,
            "gravity": grade.value,
            "uses": float(sum(word == ACCEPT for word in words) - sum(word == REJECT for word in words) / 10),
            "defects": float(len(stick.defects)),
        }
        name = column.name
        return keys[name] if name in keys else text_key(self._stick_texts(stick)[name][0])

    def cell_text(self, row: int, column: Column) -> str:
        stick = self._rack[row].stick
        plain = {
            "length": stick.length.text,
            "section": f"{stick.width.text} x {stick.depth.text}",
            "defects": defects.write_all(stick.defects),
            "variant": stick.variant,
            "lot": stick.lot,
            "note": stick.note,
            "condemned": stick.condemned,
            "species": stick.species,
            "moisture": stick.moisture.text if stick.moisture else "",
        }
        return plain[column.name] if column.name in plain else super().cell_text(row, column)

    # --- the records ---------------------------------------------------------------------------------

    def record(self, job: Job, name: str) -> Stick:
        stick = job.stick(name)
        if stick is None:
            raise UnknownName("stick", name)
        return stick

    def template(self) -> Stick:
        if self.listed:
            return replace(self.copied(self._rack[self.row].stick, ""), note="")
        return Stick("", "", NOTHING, NOTHING, NOTHING)

    def copied(self, record: Stick, name: str) -> Stick:
        bare = replace(record, tag=name, moisture=None, defects=(), inspection=Inspection(), condemned="")
        return replace(bare, readings=(), weighings=(), ovens=(), parent="")

    def with_cell(self, record: Stick, column: Column, text: str) -> Stick:
        system, name = self.system, column.name
        if name == "length":
            return replace(record, length=read_as(name, "length", text, system))
        if name == "section":
            sides = units.size(text, system)
            if len(sides) > 2:
                raise BadInput(name, text, "has three dimensions", "width x depth like 7/8 x 1-1/8")
            return replace(record, width=sides[0], depth=sides[1])
        if name == "species":
            species = species_key(text, self.woods)
            variant = record.variant if record.variant in self._variants(species) else ""
            return replace(record, species=species, variant=variant)
        if name == "variant":
            return replace(record, variant=self._variant(record.species, text.strip()))
        if name == "moisture":
            return replace(record, moisture=read_percent("moisture", text) if text.strip() else None)
        if name == "defects":
            return replace(record, defects=defects.read_all(text, system))
        return with_field(record, name, text.strip())

    def _variants(self, key: str) -> tuple[str, ...]:
        species = self.woods.get(key)
        named = {figure.variant for figure in species.figures if figure.variant} if species else set()
        return tuple(sorted(named))

    def _variant(self, key: str, text: str) -> str:
        known = self._variants(key)
        wanted = text.casefold()
        same = next((name for name in known if wanted in (name.casefold(), name.casefold().split()[-1])), "")
        if text and not same:
            named = (
                f"{', '.join(known)} or empty is wanted" if known else "this wood has none: leave it empty"
            )
            raise Refusal(f"class: {text!r} is not known; {named}", "variant", text)
        return same

    def checked(self, record: Stick, column: Column) -> None:
        if column.name == "tag":
            checking.name("tag", record.tag)
            if self.river is not None:
                checking.new_tag(self.river.job, record.tag)
        elif column.name == "length":
            checking.size("length", record.length)

    def put(self, record: Stick, was: str) -> Edit:
        return PutStick(record, was=was)

    def removed(self, name: str) -> Edit:
        return RemoveStick(name)

    def next_name(self) -> str:
        return super().next_name() or "A-01"

    def watch_river(self) -> None:
        if self.river is not None and not self.has_focus:
            self.here = self.river.tag or self.here  # out of sight it stays at the stick in hand
        super().watch_river()

    def chosen(self) -> None:
        if self.here:
            self.post_message(TakeInHand(self.here))

    # --- about the highlighted stick -----------------------------------------------------------------

    def foot(self, width: int) -> list[Content]:
        judged = self._rack[self.row]
        stick, cuts = judged.stick, self.river.job.sawn if self.river else ()
        word = wording.word(judged.verdict)
        reason = f"{stick.tag}: {'; '.join(wording.reasons(judged.verdict))}"
        start = fit(stick.tag, 7)
        uses: list[str | tuple[str, str]] = []
        for use, short in SHORT.items():
            judgement = judged.uses[use]
            verdict = judgement.word.upper()
            why = "" if judgement.word == ACCEPT else f" {inspecting.kind_name(judgement.deciding.name)}"
            uses += [f"{short} ", (verdict, WORD_STYLE[verdict]), f"{why}  "]
        drawing = line(f"{start} ", drawn(stick, cuts, max(10, width - 10)))
        if self.size.height < LOW:
            return [drawing, line(*uses)[:width]]
        return [
            drawing,
            line((f"{word:<7} ", WORD_STYLE[word]), fit(reason, width - 8)),
            line(*uses)[:width],
            line((fit(f"{legend(stick, cuts)};  {LEGEND}", width), DIM)),
        ]


def _gravity(value: float | None) -> tuple[str, str]:
    return (units.gravity(value) if value is not None else "--", "")


def good_for(words: Mapping[str, str]) -> tuple[str, str]:
    """The uses that a stick is accepted for, in few characters, and the style of the word."""
    good = [short for use, short in SHORT.items() if words[use] == ACCEPT]
    if not good:
        word = REJECT if all(words[use] == REJECT for use in SHORT) else HOLD
        return word.upper(), WORD_STYLE[word.upper()]
    joined = ", ".join(good)
    if len(good) == len(SHORT):
        joined = "all"
    elif len(joined) > 12:
        joined = f"all but {next(short for short in SHORT.values() if short not in good)}"
    return joined, WORD_STYLE["ACCEPT"]
