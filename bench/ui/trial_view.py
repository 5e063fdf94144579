"""The test at hand: one key a blow, load and deflection in pairs, the reach or the load at failure."""

from collections.abc import Callable
from fractions import Fraction

from textual.binding import Binding
from textual.content import Content

from bench import units
from bench.core import breaks, working_breaks
from bench.core.bending_test import Bending
from bench.core.coupon import BEND, BROKEN, CRACK, DROP, GLUE, NOTHING, SLIDE, Blow, Coupon, LoadPoint
from bench.core.edits import Edit, PutCoupon, Strike, TakeLoad
from bench.core.edits_break import the_coupon
from bench.core.errors import Refusal
from bench.core.quantities import INCH
from bench.core.records import Job, Typed, with_field
from bench.core.steps import Step
from bench.sheets import breaking, coupon_cells
from bench.ui.drawing import DIM, HEAD, WRONG, figures, line, stack, wrapped
from bench.ui.empty import Empty, empty
from bench.ui.job_widget import JobWidget
from bench.ui.messages import GoTo, Say
from bench.ui.naming import read_as
from bench.ui.trial_drawing import curve, ladder

EMPTY = Empty("No coupon yet.", ("go.breaks", "goes to Breaks, where the first one is added"))
LEAST, MOST = 9, 18  # lines of a curve, before what is said of it gives way
HIGH = 11  # of the height in large figures with the ladder below it
BEGIN = {
    BEND: "type the first load, Enter, then its deflection, Enter; so on until it has broken",
    SLIDE: "type the reach when it breaks, Enter",
    GLUE: "type the load at failure, Enter; the torn wood of both faces goes into the list of Breaks",
}
_STEP = {"in": INCH, "mm": Fraction(1, 100)}  # that up and down change the height by
# What a figure typed out of the blue is: field, quantity, what is asked.
_ASKED = {
    SLIDE: ("reach", "length", "from the jaw to the weight when it broke"),
    GLUE: ("load", "force", "the load at failure"),
}


class TrialView(JobWidget):
    """One coupon while it is tested."""

    BINDINGS = [
        Binding("space", "next", "Go on", id="trial.go-on", tooltip="Nothing seen; else the next value"),
        Binding("enter", "next", "Go on", id="trial.go-on-pad", tooltip="Number pad", show=False),
        Binding("k", "blow('crack')", "Crack", id="trial.crack", tooltip="Blow: the first crack"),
        Binding("asterisk", "blow('crack')", "Crack", id="trial.crack-pad", tooltip="Number pad", show=False),
        Binding("j", "blow('broken')", "Broken", id="trial.broken", tooltip="Blow: broken"),
        Binding("slash", "blow('broken')", "Broken", id="trial.broken-2", tooltip="Number pad", show=False),
        Binding(
            "minus", "minus", "Minus", id="trial.minus", tooltip="Begins a figure below nothing", show=False
        ),
        Binding("up", "height(1)", "Height", id="trial.higher", tooltip="The next blow from higher"),
        Binding("down", "height(-1)", "Height", id="trial.lower", tooltip="From lower, or again", show=False),
        Binding("right", "coupon(1)", "Coupon", id="trial.next", tooltip="The next coupon"),
        Binding("left", "coupon(-1)", "Coupon", id="trial.back", tooltip="The one before", show=False),
        Binding("v", "groups", "Groups", id="trial.groups", tooltip="Coupons together, and compared"),
    ]

    def __init__(self) -> None:
        super().__init__(id="trial")
        self.tag = ""
        self.height: Typed | None = None  # of the next blow, where it is not the plan's

    def watch_river(self) -> None:
        self.redraw()

    def show_coupon(self, tag: str) -> None:
        """Show this coupon."""
        self.tag, self.height = tag, None
        self.refresh_bindings()
        self.redraw()

    def coupon_here(self) -> Coupon | None:
        """The coupon on show; the first where it is gone."""
        coupons = self.accepted.coupons
        return self.accepted.coupon(self.tag) or (coupons[0] if coupons else None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        coupon = self.coupon_here()
        drop = coupon is not None and coupon.test == DROP
        return drop if action in ("blow", "height") else True

    # --- the test ------------------------------------------------------------------------------------

    def action_coupon(self, amount: int) -> None:
        """Another coupon."""
        tags = [coupon.tag for coupon in self.accepted.coupons]
        here = self.coupon_here()
        if here is not None:
            self.show_coupon(tags[(tags.index(here.tag) + amount) % len(tags)])

    def action_groups(self) -> None:
        """Coupons together."""
        self.post_message(GoTo("groups"))

    def action_next(self) -> None:
        """A blow after which nothing was seen; in another test the next value."""
        coupon = self.coupon_here()
        if coupon is not None and coupon.test == DROP:
            self.action_blow(NOTHING)
        elif coupon is not None:
            self.begin_typing("")

    def action_minus(self) -> None:
        """A figure below nothing: typed like any other, and refused with the reason."""
        self.begin_typing("-")

    def action_blow(self, seen: str) -> None:
        """One blow from the height on show."""
        coupon = self.coupon_here()
        if coupon is None:
            return
        try:
            broken = any(blow.seen == BROKEN for blow in coupon.blows)
            height = (
                coupon.blows[-1].height if broken else self.height or breaks.next_height(coupon, self.system)
            )
            self.accept(lambda job: Strike(coupon.tag, Blow(height, seen)))
        except Refusal as refusal:
            self.post_message(Say(str(refusal), wrong=True))
            return
        self.height = None
        self.redraw()

    def action_height(self, amount: int) -> None:
        """The next blow from higher or lower."""
        coupon = self.coupon_here()
        if coupon is None:
            return
        try:
            now = self.height or breaks.next_height(coupon, self.system)
        except Refusal:
            now = coupon.blows[-1].height
        exact = now.exact + amount * _STEP[self.system]
        if exact > 0:
            self.height = Typed(exact, units.place(exact, self.system))
            self.redraw()

    def begin_typing(self, character: str) -> None:
        """A figure out of the blue: the height of the next blow, a load, a reach."""
        coupon = self.coupon_here()
        if coupon is None:
            return
        if coupon.test == DROP:
            self.ask_line("next blow from", "a height: 12, 300 mm", character, self._typed_height, True)
        elif coupon.test == BEND:
            self._ask_load(coupon, character)
        else:
            name, quantity, hint = _ASKED[coupon.test]
            self.ask_line(f"{coupon.tag}, {name}", hint, character, self._field(coupon, name, quantity), True)

    def _typed_height(self, text: str) -> None:
        height = read_as("height", "length", text, self.system)
        if not height.exact > 0:
            raise Refusal(f"height: {text} is not possible here; more than zero is wanted", "height", text)
        self.height = height
        self.redraw()

    def _ask_load(self, coupon: Coupon, character: str) -> None:
        """A load, then the deflection read with it."""
        number = len(coupon.points) + 1

        def take(text: str) -> None:
            load = read_as("load", "force", text)

            def deflected(said: str) -> None:
                deflection = read_as("deflection", "length", said, self.system)
                self.accept(lambda job: TakeLoad(coupon.tag, LoadPoint(load, deflection)))

            self.ask_line(
                f"{coupon.tag}, deflection at {load.text}", "under the load: .05, 1.3 mm", "", deflected
            )

        self.ask_line(
            f"{coupon.tag}, load {number}", "a load: 25, 110 N; then its deflection", character, take, True
        )

    def _field(self, coupon: Coupon, name: str, quantity: str) -> Callable[[str], None]:
        def take(text: str) -> None:
            default = self.system if quantity == "length" else ""
            value = read_as(name, quantity, text, default)

            def make(job: Job) -> Edit:
                return PutCoupon(with_field(the_coupon(job, coupon.tag), name, value), was=coupon.tag)

            self.accept(make)

        return take

    # --- the picture ---------------------------------------------------------------------------------

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        coupon = self.coupon_here()
        if coupon is None:
            return stack(empty(self, "TEST", EMPTY, width))
        found = self._result(coupon)
        rows = [line(("TEST", HEAD), f"  {coupon.tag}  {coupon.test}, {self._set_up(coupon)}"[: width - 4])]
        result, *more = breaking.lines(found, self.system)
        first = self._lines([result], "", width)
        said = [*first, *self._lines(breaking.doubts(found), WRONG, width), *self._lines(more, "", width)]
        caution = self._lines([breaking.CAUTION], DIM, width)
        room = height - 1 - len(caution)
        least = HIGH if coupon.test == DROP and coupon.blows else LEAST
        rows += self._drawn(coupon, found, width, max(min(least, room - len(first)), room - len(said)))
        return stack([*rows, *said[: max(0, height - len(rows) - len(caution))], *caution][:height])

    @staticmethod
    def _lines(texts: list[str], style: str, width: int) -> list[Content]:
        return [line((part, style)) for text in texts for part in wrapped(text, width, "  ")]

    def _result(self, coupon: Coupon) -> breaks.Result:
        known = self.river.coupons if self.river is not None else ()
        found = next((one for one in known if one.coupon is coupon), None)
        return found or breaks.result(coupon, self.accepted)

    def steps(self) -> tuple[Step, ...]:
        """The working of the coupon on show."""
        coupon = self.coupon_here()
        return working_breaks.of_result(self._result(coupon)) if coupon is not None else ()

    def _set_up(self, coupon: Coupon) -> str:
        sides = units.sides(coupon.width.exact, coupon.depth.exact, self.system)
        return f"{sides}, {coupon_cells.set_up(coupon)}"

    def _drawn(self, coupon: Coupon, found: breaks.Result, width: int, room: int) -> list[Content]:
        if coupon.test == DROP:
            return self._next_blow(coupon, width, room)
        if coupon.test == BEND and coupon.points:
            bent = found.detail
            run = bent.straight if isinstance(bent, Bending) else None
            straight = range(run.first, run.ended) if run else range(0)
            rows = curve(coupon, straight, width, max(5, min(room - 1, MOST)), self.system)
            last = coupon.points[-1]
            told = f"pair {len(coupon.points)}: {last.load.text} at {last.deflection.text}"
            return [line((f"{told}   from no load: o straight  x beyond  M greatest"[:width], DIM)), *rows]
        return [line((BEGIN[coupon.test], "bold"))]

    def _next_blow(self, coupon: Coupon, width: int, room: int) -> list[Content]:
        """The height of the next blow in figures for two metres, and the ladder."""
        if coupon.blows and coupon.blows[-1].seen == BROKEN:
            return ladder(coupon, room, self.system)
        try:
            height = self.height or breaks.next_height(coupon, self.system)
        except Refusal as refusal:
            return [line((str(refusal)[:width], WRONG)), *ladder(coupon, room - 1, self.system)]
        number = units.place(height.exact, self.system)
        cracked = any(blow.seen == CRACK for blow in coupon.blows)
        rows = [
            line(
                (f"blow {len(coupon.blows) + 1} from {number}{', it has cracked' if cracked else ''}", "bold")
            )
        ]
        big = figures(number.rpartition(" ")[0]) if room > 9 else []
        rows += [line((row[:width], "bold")) for row in big]
        return [*rows, *ladder(coupon, max(2, room - len(rows)), self.system)]
