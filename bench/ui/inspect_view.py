"""The Inspect screen: what is measured and seen on the stick in hand beside its gravity, judged per use."""

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench import units
from bench.core.edits import Edit, Inspect, LookOver, PutStick
from bench.core.errors import Missing, Refusal, UnknownName
from bench.core.frozen import replace
from bench.core.inspecting import CUT_ROUND, Point
from bench.core.judging import Judged
from bench.core.limits import USES
from bench.core.records import Defect, Job, Species, Stick, Typed
from bench.core.river import River
from bench.core.steps import Step
from bench.sheets import defects, inspecting
from bench.ui.drawing import DIM, HEAD, WORD_STYLE, beside, fit, line, stack, window, wrapped
from bench.ui.empty import NO_STICK, empty
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.messages import Draft, Say
from bench.ui.naming import read_as, read_percent
from bench.ui.stepping import SIDE_STEP, next_step, turned
from bench.ui.sticks import drawn, legend

RINGS_STEP, RUN_STEP, SHARE_STEP = Fraction(1, 2), Fraction(1), Fraction(5, 100)  # [per in], [run], [1]
ORDER = {"reject": 0, "hold": 1, "accept": 3}
ROUND = 2  # what is cut round stands between
POINT_OF = {"slope_one": "slope", "slope_two": "slope", "bow_over": "bow"}  # where the names differ
MOISTURE = ("moisture", "moisture", "percent of oven-dry weight: 9.5")
Defects = tuple[Defect, ...]
NEW = "new"  # the field that a new defect is typed into
# Field -> label, quantity it is read as, what may be typed.
MEASURED = {
    "rings": (
        "rings",
        "rings",
        "the fewest in any inch of radius: 8, or 4 in 1/2; <inspect.remove> takes it out",
    ),
    "slope_one": (
        "grain one",
        "slope",
        "slope on one face: 15 or 1:15, 0 if straight; <inspect.remove> takes it out",
    ),
    "slope_two": ("grain two", "slope", "slope on the face beside it: 15 or 1:15, 0 if straight"),
    "edge_grain": ("edge grain", "share", "share of the depth with rings at 45 degrees or more: 67"),
    "bow": ("bow", "length", "greatest gap under a straight edge, 1/16; 0 if straight"),
    "bow_over": ("bow over", "length", "length of that straight edge, 48; d: the whole stick"),
}


class InspectView(FieldPane):
    """Measures and looks over one stick."""

    BINDINGS = [
        Binding("left", "other(-1)", "Stick", id="inspect.before", tooltip="The stick before"),
        Binding("right", "other(1)", "Stick", id="inspect.after", tooltip="The next stick", show=False),
        Binding("v", "use(1)", "Use", id="inspect.use", tooltip="Judged as: small part, flange or spar"),
        Binding("d", "remove", "Remove", id="inspect.remove", tooltip="Take the defect or measurement out"),
    ]

    use: var[str] = var(USES[0], init=False)

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="inspect")
        self.woods = woods
        self._on_to_new = False
        self.tried: dict[str, Edit] = {}  # by subject, ahead of the river while keys queue up

    # --- the draft -----------------------------------------------------------------------------------

    @property
    def now(self) -> Stick | None:
        """The stick shown: as accepted, with what is tried on it."""
        if self.hand is None:
            return None
        tag, job = self.hand.stick.tag, self.accepted
        for edit in self.tried.values():
            try:
                job = edit.change(job)
            except Refusal:  # the stick is gone, or has another tag: the screen drops it in a moment
                continue
        return job.stick(tag) or self.hand.stick

    def forget(self, subjects: Iterable[str]) -> None:
        gone = set(subjects)
        self.tried = {subject: edit for subject, edit in self.tried.items() if subject not in gone}
        self.redraw()

    def trying(self, subject: str) -> Edit | None:
        return self.tried.get(subject)

    def watch_river(self, old: River | None, new: River | None) -> None:
        if old is not None and new is not None and old.tag != new.tag:
            self.at = 0  # another stick begins at its first value
        super().watch_river(old, new)
        if self._on_to_new:
            self._on_to_new = False
            self.at = len(self.fields()) - 1  # what is typed next is another find

    def watch_use(self) -> None:
        self.redraw()

    def fields(self) -> Sequence[Field]:
        stick = self.now
        if stick is None:
            return ()
        seen = stick.inspection
        measured = (
            Field(name, label, _shown(getattr(seen, name)), prompt)
            for name, (label, _, prompt) in MEASURED.items()
        )
        found = (
            Field(f"defect {place}", f"found {place + 1}", defects.write(defect), defects.WANTED)
            for place, defect in enumerate(stick.defects)
        )
        looked = "yes, every defect is listed" if seen.looked else "not yet"
        return (
            *measured,
            Field("moisture", "moisture", _shown(stick.moisture), MOISTURE[2]),
            Field("looked", "looked over", looked),
            *found,
            Field(NEW, "found", "-- type it", defects.WANTED),
        )

    def _tried(self, edit: Edit) -> None:
        """Try an edit."""
        edit.check(self.accepted)
        self.tried[edit.subject] = edit
        self.post_message(Draft(edit))

    def _measured(self, tag: str, name: str, value: Typed | None) -> None:
        """Accept a measurement; while the same one is being tried, it belongs to that."""
        edit = Inspect(tag, name, value)
        if edit.subject in self.tried:
            self._tried(edit)
        else:
            self.accept(lambda job: edit)

    def _put(self, tag: str, change: Callable[[Stick], Stick]) -> None:
        """Accept a change of a stick as it stands by then."""

        def make(job: Job) -> Edit:
            stick = job.stick(tag)
            if stick is None:
                raise UnknownName("stick", tag)
            return PutStick(change(stick), was=tag)

        self.accept(make)

    def _put_defects(self, tag: str, change: Callable[[Defects], Defects]) -> None:
        """Accept a change of what was found on a stick."""
        self._put(tag, lambda there: replace(there, defects=change(there.defects)))

    def stepped(self, name: str, amount: int) -> None:
        stick = self.now
        if stick is None:
            return
        if name == "looked":
            self._tried(LookOver(stick.tag, not stick.inspection.looked))
        elif name == "moisture":
            self.post_message(Say("moisture: Enter types it; <go.moisture> dries a cut-off or reads the air"))
        elif name in MEASURED:
            value = getattr(stick.inspection, name)
            if value is None:
                raise Missing(MEASURED[name][0], "type what was measured; no step makes one up")
            self._tried(Inspect(stick.tag, name, self._stepped(name, value, amount)))
        else:
            self.post_message(Say("found: Enter types it"))

    def _stepped(self, name: str, value: Typed, amount: int) -> Typed:
        if name == "rings":
            per_inch = value.exact * Fraction(254, 10_000)
            count = max(RINGS_STEP, (round(per_inch / RINGS_STEP) + amount) * RINGS_STEP)
            return units.read("rings", f"{float(count):g}")
        if name in ("slope_one", "slope_two"):
            run = 1 / value.exact if value.exact else Fraction(100)
            stepped = max(RUN_STEP, (round(run / RUN_STEP) + amount) * RUN_STEP)
            return units.read("slope", f"{float(stepped):g}")
        if name == "edge_grain":
            stepped = (round(value.exact / SHARE_STEP) + amount) * SHARE_STEP
            share = min(Fraction(1), max(Fraction(0), stepped))
            return units.read("share", f"{float(share * 100):g}")
        step = SIDE_STEP[self.system]
        return next_step(value.exact, amount, step, Fraction(0) if name == "bow" else step, self.system)

    def typed(self, name: str, text: str) -> None:
        stick = self.now
        if stick is None:
            return
        if name in MEASURED:
            label, quantity, _ = MEASURED[name]
            value = read_as(label, quantity, text, self.system if quantity == "length" else "")
            self._measured(stick.tag, name, value)
            self.on_to(self._missing(stick, name, value))
            return
        if name == "moisture":
            moisture = read_percent("moisture", text)
            self._put(stick.tag, lambda there: replace(there, moisture=moisture))
            self.on_to(self._missing(stick, name, moisture))
            return
        found = defects.read(text, self.system)
        if name == NEW:
            self._put_defects(stick.tag, lambda there: (*there, found))
            self._on_to_new = True
        else:
            place = int(name.split()[1])
            self._put_defects(stick.tag, lambda there: (*there[:place], found, *there[place + 1 :]))

    def _missing(self, stick: Stick, name: str, value: Typed) -> list[str]:
        """What is still to be measured once a value has been typed; at last whether it was looked over.

        Over what length the bow was measured is asked only after a bow: without it, it is the whole stick.
        """
        seen = stick.inspection
        known = {"moisture": stick.moisture, **{one: getattr(seen, one) for one in MEASURED}, name: value}
        bowed = name == "bow" and value.exact > 0
        missing = [one for one, there in known.items() if there is None and (one != "bow_over" or bowed)]
        return missing if seen.looked else [*missing, "looked"]

    def _ask(self, text: str) -> None:
        """A defect is mended, not typed anew."""
        field = self.field_here()
        if field is not None and field.name.startswith("defect ") and not text:
            name = field.name
            self.ask_line(field.label, field.prompt, field.shown, lambda new: self.typed(name, new))
        else:
            super()._ask(text)

    def action_remove(self) -> None:
        """Take out the highlighted defect, or say that the value is not measured."""
        field, stick = self.field_here(), self.now
        if field is None or stick is None or field.name == NEW:
            return
        if field.name == "looked":
            self._try(lambda: self.accept(lambda job: LookOver(stick.tag, False)))
        elif field.name == "moisture":
            self._try(lambda: self._put(stick.tag, lambda there: replace(there, moisture=None)))
        elif field.name in MEASURED:
            self._try(lambda: self._measured(stick.tag, field.name, None))
        else:
            place = int(field.name.split()[1])
            self._try(
                lambda: self._put_defects(stick.tag, lambda there: (*there[:place], *there[place + 1 :]))
            )

    def action_use(self, amount: int) -> None:
        """Judge it as what it may become."""
        self.use = turned(USES, self.use, amount)

    def steps(self) -> tuple[Step, ...]:
        """The working of every point with a number, for the use on show."""
        return inspecting.steps(self.hand.uses[self.use]) if self.hand else ()

    # --- the picture ---------------------------------------------------------------------------------

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        stick, hand = self.now, self.hand
        if stick is None or hand is None:
            return stack(empty(self, "INSPECT", NO_STICK, width))
        rows = self._head(stick, width)
        first = len(rows)
        foot = self._documents(hand, width)[: max(0, height - first - 6)]
        room = height - first - len(foot)
        if width >= 70:
            values = self.field_lines(42, 12)
            rows += window(values, self.at, room)
            beside(rows, first, 44, self._points(hand, width - 44, room), width)
        else:
            values = self.field_lines(width, 12)
            rows += window(values, self.at, max(3, room // 2))
            rows += self._points(hand, width, room - room // 2)
        rows += [Content("")] * (height - len(foot) - len(rows))
        return stack([*rows, *foot][:height])

    def _head(self, stick: Stick, width: int) -> list[Content]:
        assert self.river is not None
        species = self.woods.get(stick.species)
        name = species.name if species else stick.species
        size = f"{stick.width.text} x {stick.depth.text} x {stick.length.text}"
        text = f"{stick.tag}  {name}, {size}"
        cuts = self.river.job.sawn
        return [
            line(("INSPECT ", HEAD), (fit(text, width - 8), "bold")),
            drawn(stick, cuts, width - 2),
            line((fit(f"from the marked end; {legend(stick, cuts)}", width), DIM)),
        ]

    def _uses(self, hand: Judged) -> list[Content]:
        """The verdict for each use in a line."""
        rows = []
        for use in USES:
            judgement = hand.uses[use]
            mark = ">" if use == self.use else " "
            word = judgement.word.upper()
            rows.append(line(mark, f"{inspecting.use_name(use):<12} ", (f"{word:<7}", WORD_STYLE[word])))
        return rows

    def _points(self, hand: Judged, width: int, room: int) -> list[Content]:
        """The verdicts, and the points of the use on show: what decides first, what is in order in short."""
        points = sorted(
            hand.uses[self.use].points,
            key=lambda point: ROUND if point.reason == CUT_ROUND else ORDER[point.word],
        )
        rows = self._uses(hand)
        for point in points:
            short = inspecting.short_line(point, self.system)
            full = inspecting.reason(point, self.system) if point.word != "accept" else short
            rows += _two(point.word.upper(), full, width)
        if len(rows) > room > 0:  # what there is no room for is not cut without a sign
            rows[room - 1] = rows[room - 1][: max(0, width - 3)] + " .."
        return rows[:room]

    def _point_here(self, hand: Judged) -> Point | None:
        """The point that the highlighted value belongs to, for the use on show."""
        field = self.field_here()
        points = hand.uses[self.use].points
        if field is None:
            return None
        if field.name.startswith("defect "):
            found = [point for point in points if point.defect is not None]
            place = int(field.name.split()[1])
            return found[place] if place < len(found) else None
        name = POINT_OF.get(field.name, field.name)
        return next((point for point in points if point.name == name and point.defect is None), None)

    def _documents(self, hand: Judged, width: int) -> list[Content]:
        """What each document says of the highlighted value, the one that governs marked."""
        field, point = self.field_here(), self._point_here(hand)
        if field is None or field.name == NEW:
            return []
        if point is None:
            return [line((f"{field.label}: not asked of a {inspecting.use_name(self.use)}", DIM))]
        rows = []
        for held in sorted(point.held, key=lambda held: not held.governs):
            text = inspecting.held_line(held, point, self.system)
            mark = ">" if held.governs else " "
            rows += _two(held.word.upper(), f"{mark}{text}", width)
        return rows or [line((text, DIM)) for text in wrapped(inspecting.reason(point, self.system), width)]


def _two(word: str, text: str, width: int) -> list[Content]:
    """A word and its sentence, in as many lines as it needs."""
    first, *rest = wrapped(text, max(10, width - 8)) or [""]
    return [line((f"{word:<7} ", WORD_STYLE[word]), first), *(line(" " * 8, more) for more in rest)]


def _shown(typed: Typed | None) -> str:
    return "--" if typed is None else typed.text
