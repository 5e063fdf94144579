"""The Moisture screen: by drying, in the shop's air, and what a section measures days later."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import partial

from textual.content import Content

from bench import units
from bench.core import moisture, moving, working_strength
from bench.core.edits import Edit, ReadAir, TakeOvenTest
from bench.core.errors import Missing, OutOfRange, Refusal
from bench.core.frozen import record, replace
from bench.core.moving import SizeChange
from bench.core.records import OvenTest, ShopAir, Species, Stick, Typed, with_field
from bench.core.river import River
from bench.core.working import Step
from bench.sheets import moving as sentences
from bench.ui.drawing import DIM, HEAD, TRIED, WRONG, beside, line, stack, window, wrapped
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.messages import Draft, Say, Waiting
from bench.ui.naming import read_as, read_percent
from bench.ui.stepping import SIDE_STEP, next_step, turned

OVEN, AIR = ("wet", "dry"), ("air", "humidity")
LABELS = {
    "wet": "oven wet",
    "dry": "oven dry",
    "air": "air",
    "humidity": "humidity",
    "width": "width",
    "depth": "depth",
    "rings": "rings",
    "start": "from",
    "end": "to",
}
SIDES = 34  # columns of the values, where the answers stand beside them
_MASS_STEP = Fraction(1, 10_000)  # 0.1 g [kg]
_MOISTURE_STEP = Fraction(5, 1000)
_SHOWN_RINGS = {moving.RINGS_UNKNOWN: "not known", moving.RINGS_45: "45 degrees"}


@record
class Later:
    """What is asked of a section days later; None: what the job says."""

    width: Typed | None = None  # [m]
    depth: Typed | None = None  # [m]
    rings: str = moving.RINGS_UNKNOWN
    start: Typed | None = None  # [1]
    end: Typed | None = None  # [1]


def _percent(share: Fraction) -> Typed:
    return Typed(share, f"{float(share) * 100:g} %")


class MoistureView(FieldPane):
    """Takes an oven test of the stick in hand and the shop's air; what comes days later is only looked at."""

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="moisture")
        self.woods = woods
        self.masses: dict[str, dict[str, Typed]] = {}  # by tag: what was typed of an oven test
        self.tried: ShopAir | None = None
        self.later = Later()
        self._tag = ""

    def forget(self, subjects: Iterable[str]) -> None:
        gone = set(subjects)
        self.masses = {tag: typed for tag, typed in self.masses.items() if f"moisture {tag}" not in gone}
        if "air" in gone:
            self.tried = None
        self.redraw()

    def trying(self, subject: str) -> Edit | None:
        return ReadAir(self.tried) if subject == "air" and self.tried is not None else None

    def watch_river(self, old: River | None, new: River | None) -> None:
        if new is not None and new.tag != self._tag:
            self._tag = new.tag
            # Another stick: its own sizes and moisture. How the rings lie is another stick's as well.
            self.later = Later()
        super().watch_river(old, new)

    # --- what the job says ---------------------------------------------------------------------------

    @property
    def stick(self) -> Stick | None:
        """The stick in hand, with what is tried of it."""
        return self.river.hand.stick if self.river and self.river.hand else None

    @property
    def shop(self) -> ShopAir:
        """The shop's air as shown."""
        return self.tried if self.tried is not None else self.accepted.air

    def species(self) -> Species | None:
        """The wood of the stick in hand; without one the section's."""
        key = self.stick.species if self.stick else self.accepted.section.use
        return self.woods.get(key)

    def air_moisture(self) -> float | None:
        """What the shop's air brings wood to, where the air is known and covered [1]."""
        now = self.shop
        if now.air is None or now.humidity is None:
            return None
        try:
            return moisture.equilibrium(now.air.si, now.humidity.si)
        except OutOfRange:
            return None

    def size_of(self, side: str) -> tuple[Fraction | None, str]:
        """A side to begin with [m], and whose it is: typed, the resized section's, the stick's."""
        typed: Typed | None = getattr(self.later, side)
        if typed is not None:
            return typed.exact, ""
        section = self.river.section if self.river else None
        if section and section.resized and (not self.stick or section.choice.use == self.stick.species):
            return section.resized.shop[0 if side == "width" else 1], "section"
        return (getattr(self.stick, side).exact, "stick") if self.stick else (None, "")

    def moisture_of(self, name: str) -> tuple[float | None, str]:
        """Moisture at the start or end [1], and whose it is."""
        typed: Typed | None = getattr(self.later, name)
        if typed is not None:
            return typed.si, ""
        if name == "end":
            return self.air_moisture(), "this air"
        known = self.stick.moisture if self.stick else None
        return (known.si, "stick") if known else (None, "")

    def change(self) -> SizeChange:
        """The section days later; raises Missing for what is not known yet, OutOfRange."""
        species = self.species()
        if species is None:
            raise Missing("species", "the library does not have it")
        sides = [self.size_of(side)[0] for side in ("width", "depth")]
        moistures = [self.moisture_of(name)[0] for name in ("start", "end")]
        for name, value in zip(("width", "depth", "from", "to"), (*sides, *moistures), strict=True):
            if value is None:
                raise Missing(name, "type it, or give the air" if name == "to" else "type it")
        width, depth, start, end = (float(value or 0) for value in (*sides, *moistures))
        return moving.size_change(width, depth, self.later.rings, species, start, end)

    def steps(self) -> tuple[Step, ...]:
        """The working of everything on this screen."""
        found: tuple[Step, ...] = ()
        last = self.stick.ovens[-1] if self.stick and self.stick.ovens else None
        if last is not None:
            found += working_strength.of_oven(last.wet.si, last.dry.si)
        now = self.shop
        known = self.stick.moisture if self.stick else None
        if now.air is not None and now.humidity is not None and self.air_moisture() is not None:
            found += working_strength.of_air(now.air.si, now.humidity.si, known.si if known else None)
        try:
            return found + working_strength.of_size_change(self.change())
        except Refusal:
            return found

    # --- values --------------------------------------------------------------------------------------

    def fields(self) -> Sequence[Field]:
        masses = self.masses.get(self._tag, {})
        oven = [
            Field(name, LABELS[name], masses[name].text if name in masses else "-- type it", hint)
            for name, hint in (
                ("wet", "mass as found, 48.3 is grams; or 1.7 oz"),
                ("dry", "mass when oven-dry, 43.1 is grams"),
            )
        ]
        now = self.shop
        return (
            *(oven if self.stick else ()),
            Field("air", "air", now.air.text if now.air else "-- type it", "temperature, 20 C or 68 F"),
            Field("humidity", "humidity", now.humidity.text if now.humidity else "-- type it", "percent, 50"),
            *(self._side(side) for side in ("width", "depth")),
            Field("rings", "rings", _SHOWN_RINGS.get(self.later.rings, self.later.rings)),
            *(self._moisture(name) for name in ("start", "end")),
        )

    def _side(self, side: str) -> Field:
        size, whose = self.size_of(side)
        shown = "-- type it" if size is None else units.length(size, self.system, 4)
        return Field(side, side, _of(shown, whose), f"{side} now, 3/4 or 19 mm; 0 for the job's")

    def _moisture(self, name: str) -> Field:
        share, whose = self.moisture_of(name)
        shown = "-- type it" if share is None else units.percent(share, 2)
        hint = "percent of oven-dry weight; a blank for the job's"
        return Field(name, LABELS[name], _of(shown, whose if share is not None else ""), hint)

    def stepped(self, name: str, amount: int) -> None:
        if name in OVEN:
            typed = self.masses.get(self._tag, {}).get(name)
            if typed is None:
                raise Missing(LABELS[name], "type what the balance shows; no step makes one up")
            mass = max(_MASS_STEP, (round(typed.exact / _MASS_STEP) + amount) * _MASS_STEP)
            self._try_mass(name, Typed(mass, f"{float(mass * 1000):g} g"))
        elif name in AIR:
            self._step_air(name, amount)
        elif name == "rings":
            rings = turned(moving.LIES, self.later.rings, 1 if amount > 0 else -1)
            self._look(replace(self.later, rings=rings))
        elif name in ("width", "depth"):
            size, _ = self.size_of(name)
            step = SIDE_STEP[self.system]
            changed = next_step(size or Fraction(0), amount, step, step, self.system)
            self._look(with_field(self.later, name, changed))
        else:
            share, _ = self.moisture_of(name)
            if share is None:
                raise Missing(LABELS[name], "type it, say 9.5; no step makes one up")
            steps = round(Fraction(share) / _MOISTURE_STEP) + amount
            self._look(with_field(self.later, name, _percent(max(0, steps) * _MOISTURE_STEP)))

    def _step_air(self, name: str, amount: int) -> None:
        typed: Typed | None = getattr(self.shop, name)
        if typed is None:
            raise Missing(LABELS[name], "type what was read; no step makes one up")
        if name == "humidity":
            share = min(Fraction(1), max(Fraction(0), typed.exact + Fraction(amount, 100)))
            self._try_air(name, _percent(share))
        else:
            kelvin = typed.exact + amount
            self._try_air(name, Typed(kelvin, f"{float(kelvin - Fraction(27315, 100)):g} C"))

    def typed(self, name: str, text: str) -> None:
        label = LABELS[name]
        if name in OVEN:
            self._try_mass(name, read_as(label, "mass", text, "g"))
            self.on_to(other for other in OVEN if other not in self.masses[self._tag])
        elif name in AIR:
            self._try_air(name, _air(label, text) if name == "air" else read_percent(name, text, label))
            self.on_to(other for other in AIR if getattr(self.shop, other) is None)
        elif name in ("width", "depth"):
            blank = text.strip() in ("", "0")
            size = None if blank else read_as(label, "length", text, self.system)
            self._look(with_field(self.later, name, size))
        else:
            share = read_percent("moisture", text, label) if text.strip() else None
            self._look(with_field(self.later, name, share))

    def _try_mass(self, name: str, mass: Typed) -> None:
        """Show an oven test; kept waiting while one of the two masses is missing."""
        tag, typed = self._tag, {**self.masses.get(self._tag, {}), name: mass}
        if len(typed) < 2:
            missing = LABELS["dry" if name == "wet" else "wet"]
            self.post_message(Waiting(f"moisture {tag}", f"{tag}, {missing}: not given; type it in grams"))
        else:
            edit = TakeOvenTest(tag, OvenTest(typed["wet"], typed["dry"]))
            edit.check(self.accepted)
            self.post_message(Draft(edit))
        self.masses[tag] = typed
        self.later = replace(self.later, start=None)
        self.redraw()

    def _try_air(self, name: str, value: Typed) -> None:
        """Show another air; refused where the equation does not go."""
        changed = with_field(self.shop, name, value)
        if changed.air is not None and changed.humidity is not None:
            moisture.equilibrium(changed.air.si, changed.humidity.si)
        edit = ReadAir(changed)
        edit.check(self.accepted)
        self.tried = changed
        self.post_message(Draft(edit))

    def _look(self, later: Later) -> None:
        """Look at another section or moisture: nothing of it is kept."""
        self.later = later
        self.post_message(Say(""))
        self.redraw()

    # --- the picture ---------------------------------------------------------------------------------

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        wide = width >= 70
        room = width - SIDES if wide else width
        name = self.stick.tag if self.stick else "no stick in hand"
        species = self.species()
        rows = [
            line(("MOISTURE ", HEAD), (f"{name}  {species.name if species else ''}"[: width - 9], "bold"))
        ]
        answers = self._answers(room, height - 1 if wide else height - 2)
        if not wide:
            rows += answers
        first = len(rows)
        values = self.field_lines(min(width, SIDES - 1), 9)
        rows += window(values, self.at, height - first)
        if wide:
            beside(rows, first, SIDES, answers, width)
        return stack(rows[:height])

    def _answers(self, width: int, room: int) -> list[Content]:
        """What the values say; where not all has room, what the highlighted value is about."""
        blocks = {
            "oven": partial(self._oven, width),
            "air": partial(self._air, width),
            "later": partial(self._later, width),
        }
        everything = [row for block in blocks.values() for row in block()]
        if len(everything) <= room:
            return everything
        here = self.field_here()
        about = "oven" if here and here.name in OVEN else "air" if here and here.name in AIR else "later"
        rows = blocks[about]()
        if len(rows) <= room:
            return rows
        return [*rows[: max(0, room - 1)], line(("more: make the terminal taller", WRONG))]

    def _oven(self, width: int) -> list[Content]:
        stick = self.stick
        if stick is None:
            return []
        if stick.moisture is None:
            return _rows(f"{stick.tag} has no moisture: weigh a cut-off, dry it, weigh it again", width, DIM)
        share = units.percent(stick.moisture.si, 2)
        if len(self.masses.get(self._tag, {})) == 2:
            return _rows(f"by drying {share} of oven-dry weight; Enter keeps it", width, TRIED)
        return _rows(f"{stick.tag} has {share} moisture, of oven-dry weight", width, "bold")

    def _air(self, width: int) -> list[Content]:
        now, stick = self.shop, self.stick
        if now.air is None or now.humidity is None:
            return _rows("give the shop's air: temperature and humidity", width, DIM)
        try:
            rows = _rows(sentences.settles(now.air.si, now.humidity.si), width)
        except OutOfRange as refusal:
            return _rows(str(refusal), width, WRONG)
        if stick is not None and stick.moisture is not None:
            over = moisture.correct_for_air(stick.moisture.si, now.air.si, now.humidity.si)
            rows += _rows(f"{stick.tag}: {sentences.distance(over)}", width, "bold")
        if not moisture.fitted(now.air.si, now.humidity.si):
            rows += _rows(sentences.OUTSIDE_FIT, width, WRONG)
        return rows

    def _later(self, width: int) -> list[Content]:
        title = _rows("DAYS LATER", width, HEAD)
        try:
            found = self.change()
        except Refusal as refusal:
            return [*title, *_rows(str(refusal), width, DIM)]
        # The sizes first and bold: they are what is set on the saw.
        rows = [
            row
            for place, text in enumerate(sentences.change(found, self.system))
            for row in _rows(text, width, "bold" if place < 2 else DIM)
        ]
        # That a coefficient is recalled stands beside it already.
        doubts = tuple(code for code in found.doubts if code != moving.RECALLED)
        for text in sentences.movement_warnings(doubts, ""):
            rows += _rows(text, width, WRONG)
        return title + rows


def _rows(text: str, width: int, style: str = "") -> list[Content]:
    return [line((part, style)) for part in wrapped(text, width, "  ")]


def _of(shown: str, whose: str) -> str:
    return f"{shown} ({whose})" if whose else shown


def _air(label: str, text: str) -> Typed:
    """A temperature of the shop's air; a bare number that no shop has in Celsius is asked back."""
    value = read_as(label, "temperature", text)
    celsius = float(value.exact - Fraction(27_315, 100))
    if celsius > 45 and not any(letter.isalpha() for letter in text):
        raise Refusal(f"{label}: {text.strip()} would be Celsius; type {text.strip()} F or {text.strip()} C")
    return value
