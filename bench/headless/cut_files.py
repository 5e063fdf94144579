"""A cut list in JSON, read strictly: every fault is named with its place, `parts[2].length`."""

import math
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from bench import units
from bench.core import checking
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.cutting import CutRules
from bench.core.frozen import record, replace
from bench.core.naming import nearest
from bench.core.quantities import INCH
from bench.core.records import CutMade, Spoilt
from bench.core.resizing import HOLDS
from bench.core.splitting import Joint, overlap
from bench.headless.cut_values import Values, join, parsed

Section = tuple[Fraction, Fraction]  # [m]
MOST_STICKS = 1_000
LONGEST_WORDS, LONGEST_GROUP = 200, 40  # letters, as in a job
_RULES = ("kerf", "end_trim", "margin", "squaring", "least_offcut")
_TOP = (
    *(*_RULES, "parts", "sticks"),
    *("rip_kerf", "edge", "planing", "least_piece", "use_held", "made", "spoiled"),
)
_PART = (
    *("name", "length", "quantity", "section", "minimum_sg", "critical"),
    *("best", "scarf", "scarf_side", "no_joint", "grain", "group"),
)
_STICK = (
    *("tag", "length", "quantity", "section", "sg", "defects"),
    *("width", "thickness", "verdict"),
)
_SAWN = ("part", "stick", "from", "to")
_VERDICTS = (ACCEPT, HOLD, REJECT)
_LEAST_PIECE = 12 * INCH
_HAIR = INCH / 64  # a made piece may be as much shorter than its part, as it was measured with a tape
# A place copied from an answer is a float. So near to a place that a plan of this list can have, it is that
# place; else the number of small denominator beside it.
_NOISE, _FINEST = Fraction(1, 10**12), 10_000_000  # [m], [1]


@record
class ListedPart:
    """A line of parts as listed."""

    name: str
    length: Fraction  # [m]
    quantity: int
    section: Section | None  # two sides, the smaller first [m]
    minimum_sg: Fraction | None  # [1]
    critical: bool
    best: bool = False
    joint: Joint | None = None
    grain: str = ""
    group: str = ""


@record
class ListedStick:
    """One stick; a line of several has become as many."""

    tag: str
    length: Fraction  # [m]
    section: Section | None  # two sides, the smaller first [m]
    sg: Fraction | None  # [1]
    defects: tuple[tuple[Fraction, Fraction], ...]  # [m]
    plank: Section | None = None  # width and thickness, to be ripped [m]
    verdict: str = ACCEPT


@record
class CutList:
    """The whole file."""

    rules: CutRules
    parts: tuple[ListedPart, ...]  # their quantities count what is made already
    sticks: tuple[ListedStick, ...]
    use_held: bool = False
    made: tuple[CutMade, ...] = ()
    spoiled: tuple[Spoilt, ...] = ()

    @property
    def sawn(self) -> tuple[CutMade | Spoilt, ...]:
        """Every stretch that is off its stick."""
        return (*self.made, *self.spoiled)

    def usable(self, stick: ListedStick) -> bool:
        """Whether parts may come from a stick by its verdict."""
        return stick.verdict == ACCEPT or (stick.verdict == HOLD and self.use_held)


def read_file(path: Path) -> CutList:
    """A cut list from its file.

    Args:
        path: of a JSON file, UTF-8.
    Returns:
        The list; lengths exact.
    Raises:
        FileFault: the file cannot be opened, is no JSON, or has a fault; names the place.
    """
    return _Reader(str(path)).cut_list(parsed(path))


class _Reader(Values):
    """Reads a cut list, part by part and stick by stick."""

    def __init__(self, path: str) -> None:
        super().__init__(path)
        self.least_piece = _LEAST_PIECE
        self.lengths: dict[str, dict[str, Fraction]] = {}  # of each part and stick [m]
        self.steps = 1  # to the metre, in which every place of a plan is whole

    def cut_list(self, top: object) -> CutList:
        table = self.table(top, "", _TOP, ())
        kerf = self.allowance(table, "kerf", INCH / 8)
        rest = (*_RULES[1:], "edge", "planing")
        rules = CutRules(
            kerf=kerf,
            rip_kerf=self.allowance(table, "rip_kerf", kerf),
            **{key: self.allowance(table, key, Fraction(0)) for key in rest},
        )
        if "least_piece" in table:
            self.least_piece = self.size(table, "least_piece", "").exact
        parts = self.rows(table, "parts", self.part)
        self.refuse_doubles("parts", "name", [part.name for part in parts])
        self._refuse_too_many(parts)
        lines = self.rows(table, "sticks", self.stick_line)
        self.refuse_doubles("sticks", "tag", [stick.tag for stick, _ in lines])
        if (count := sum(1 if n is None else n for _, n in lines)) > MOST_STICKS:
            self.fault("sticks", f"{count} sticks are listed; {MOST_STICKS} are the most")
        sticks = tuple(each for stick, number in lines for each in _each(stick, number))
        self.refuse_doubles("sticks", "tag", [stick.tag for stick in sticks])
        self._refuse_planks_for_no_section(parts, sticks)
        self.lengths = {
            "part": {part.name: part.length for part in parts},
            "stick": {stick.tag: stick.length for stick in sticks},
        }
        self.steps = _steps(rules, parts, sticks)
        made, lost = self.rows(table, "made", self.made), self.rows(table, "spoiled", self.sawn)
        self._refuse_overlaps(made, lost)
        self._refuse_more_than_wanted(made, parts)
        spoiled = tuple(Spoilt(cut.part, cut.stick, cut.start, cut.end) for cut in lost)
        return CutList(rules, parts, sticks, self.flag(table, "use_held", ""), made, spoiled)

    # Lines of the list.

    def part(self, value: object, at: str) -> ListedPart:
        table = self.table(value, at, _PART, ("name", "length"))
        critical = self.flag(table, "critical", at)
        name, length = self.name(table, "name", at), self.size(table, "length", at).exact
        quantity = self.count(table, at)
        section = self.section(table, at)
        return ListedPart(
            name=name,
            length=length,
            quantity=1 if quantity is None else quantity,
            section=_sorted(section),
            minimum_sg=self.gravity(table, "minimum_sg", at),
            critical=critical,
            best=self.flag(table, "best", at),
            joint=self.joint(table, at, length, section),
            grain=self.words(table, "grain", at, LONGEST_WORDS),
            group=self.words(table, "group", at, LONGEST_GROUP),
        )

    def joint(
        self, table: dict[str, object], at: str, length: Fraction, section: Section | None
    ) -> Joint | None:
        """What a part says of its joints; None where it allows none."""
        slope = self.scarf(table, at)
        side = self.choice(table, "scarf_side", at, [side for side in HOLDS if side], "")
        barred = []
        for (one, other), place in self.pairs(table, "no_joint", at):
            self.inside((one, other), place, "part", length)
            if one.exact == other.exact:
                self.fault(place, f"{one.text} to {other.text} has no length; a stretch would be read")
            barred.append((min(one.exact, other.exact), max(one.exact, other.exact)))
        if slope is None:
            if side:
                self.fault(f"{at}.scarf_side", 'goes with "scarf", the slope of the joint, which is missing')
            return None
        if section is None:
            self.fault(f"{at}.scarf", 'needs the "section" of the part: the joint runs across it')
        return Joint(overlap(slope, *section, side), self.least_piece, tuple(barred))

    def stick_line(self, value: object, at: str) -> tuple[ListedStick, int | None]:
        """A line of sticks, and how many; None where the line says nothing."""
        table = self.table(value, at, _STICK, ("tag", "length"))
        length = self.size(table, "length", at).exact
        defects = []
        for (one, other), place in self.pairs(table, "defects", at):
            self.inside((one, other), place, "stick", length)
            defects.append((one.exact, other.exact))
        section = self.section(table, at)
        stick = ListedStick(
            tag=self.name(table, "tag", at),
            length=length,
            section=_sorted(section),
            sg=self.gravity(table, "sg", at),
            defects=tuple(defects),
            plank=self.plank(table, at),
            verdict=self.choice(table, "verdict", at, _VERDICTS, ACCEPT),
        )
        return stick, self.count(table, at)

    def plank(self, table: dict[str, object], at: str) -> Section | None:
        """Width and thickness of what is ripped; None for a stick that is at its section."""
        given = [key for key in ("width", "thickness") if key in table]
        if not given:
            return None
        if "section" in table:
            self.fault(
                join(at, given[0]),
                'stands beside "section"; "section" of a stick at its size, or "width" and "thickness" '
                "of a plank to be ripped, would be read",
            )
        for key in ("width", "thickness"):
            if key not in table:
                self.fault(join(at, key), f'is missing; a plank has it beside its "{given[0]}"')
        return self.size(table, "width", at).exact, self.size(table, "thickness", at).exact

    def sawn(self, value: object, at: str) -> CutMade:
        """A stretch that is off its stick already."""
        table = self.table(value, at, _SAWN, _SAWN)
        part, tag = self.known("part", table, at), self.known("stick", table, at)
        ends = (
            self.typed("length", table["from"], f"{at}.from"),
            self.typed("length", table["to"], f"{at}.to"),
        )
        if ends[0].exact >= ends[1].exact:
            self.fault(at, f"{ends[0].text} to {ends[1].text} has no length; from below to would be read")
        start, end = (self.settled(typed.exact) for typed in ends)
        if end > self.lengths["stick"][tag]:
            self.inside(ends, at, "stick", self.lengths["stick"][tag])
        return CutMade(part, tag, start, end)

    def settled(self, place: Fraction) -> Fraction:
        """A place without the noise of a float [m]."""
        near = Fraction(round(place * self.steps), self.steps)
        return near if abs(near - place) < _NOISE else place.limit_denominator(_FINEST)

    def made(self, value: object, at: str) -> CutMade:
        """A piece that is sawn already."""
        cut = self.sawn(value, at)
        wanted = self.lengths["part"][cut.part]
        if cut.end - cut.start < wanted - _HAIR:
            self.fault(
                at,
                f"it is {units.tape(cut.end - cut.start)} long, and {cut.part!r} is {units.tape(wanted)}; "
                'the whole piece would be read, or this under "spoiled"',
            )
        return cut

    def known(self, key: str, table: dict[str, object], at: str) -> str:
        """The name of a part or the tag of a stick that the list has."""
        name = self.name(table, key, at)
        if name not in self.lengths[key]:
            near = nearest(name, self.lengths[key])
            hint = f"; nearest: {', '.join(near)}" if near else ""
            self.fault(f"{at}.{key}", f"{name!r} is no {key} of the list{hint}")
        return name

    # What must hold between the lines.

    def _refuse_too_many(self, parts: Sequence[ListedPart]) -> None:
        pieces = sum(part.quantity for part in parts)
        if pieces > checking.MOST_PIECES:
            most = f"{checking.MOST_PIECES:,}"
            self.fault("parts", f"{pieces:,} pieces are listed; {most} is the most: look at the quantities")

    def _refuse_planks_for_no_section(
        self, parts: Sequence[ListedPart], sticks: Sequence[ListedStick]
    ) -> None:
        plank = next((stick for stick in sticks if stick.plank), None)
        for count, part in enumerate(parts):
            if plank is not None and part.section is None:
                why = f"is missing; {plank.tag!r} is a plank, and only the section says how it is ripped"
                self.fault(f"parts[{count}].section", why)

    def _refuse_overlaps(self, made: Sequence[CutMade], lost: Sequence[CutMade]) -> None:
        places = [(f"made[{count}]", cut) for count, cut in enumerate(made)]
        places += [(f"spoiled[{count}]", cut) for count, cut in enumerate(lost)]
        ends: dict[str, tuple[Fraction, str]] = {}
        order = {at: count for count, (at, _) in enumerate(places)}
        for at, cut in sorted(places, key=lambda row: (row[1].stick, row[1].start, row[1].end)):
            end, other = ends.get(cut.stick, (Fraction(0), ""))
            if cut.start < end:
                first, then = sorted((at, other), key=order.__getitem__)
                self.fault(then, f"overlaps {first} on {cut.stick!r}; wood is sawn off once")
            ends[cut.stick] = max((end, other), (cut.end, at))

    def _refuse_more_than_wanted(self, made: Sequence[CutMade], parts: Sequence[ListedPart]) -> None:
        left = Counter({part.name: part.quantity for part in parts})
        for count, cut in enumerate(made):
            left[cut.part] -= 1
            if left[cut.part] < 0:
                wanted = next(part.quantity for part in parts if part.name == cut.part)
                why = f"more of {cut.part!r} are made than {wanted}; the quantity counts all that are wanted"
                self.fault(f"made[{count}]", why)


def _steps(rules: CutRules, parts: Sequence[ListedPart], sticks: Sequence[ListedStick]) -> int:
    lengths = {rules.kerf, rules.end_trim, rules.margin, rules.squaring}
    lengths |= {part.length for part in parts} | {stick.length for stick in sticks}
    lengths |= {place for stick in sticks for defect in stick.defects for place in defect}
    return math.lcm(*(length.denominator for length in lengths))


def _sorted(section: Section | None) -> Section | None:
    return None if section is None else (min(section), max(section))


def _each(stick: ListedStick, count: int | None) -> tuple[ListedStick, ...]:
    if count is None:
        return (stick,)
    return tuple(replace(stick, tag=f"{stick.tag}#{number}") for number in range(1, count + 1))
