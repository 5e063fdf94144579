"""What a cut list is made of and what a plan says: the problem as given, and the plan as found.

All lengths are exact, in metres from the stick's marked end.
"""

from collections.abc import Callable
from fractions import Fraction

from bench.core.frozen import record

Span = tuple[Fraction, Fraction]  # start, end [m]


@record
class CutPart:
    """A line of the list."""

    name: str
    length: Fraction  # finished [m]
    quantity: int
    critical: bool = False
    sticks: frozenset[str] | None = None  # tags of the sticks that may become this part; None: any
    barred_by: str = ""  # why others may not, for the one who shows it
    wish: bool = False  # from sticks of high rank, as critical parts are; it costs no tier before that
    width: Fraction | None = None  # finished section; None: of any stick one is made, never two [m]
    depth: Fraction | None = None  # [m]


@record
class CutStick:
    """A stick, and the stretches of it that may not go into a part."""

    tag: str
    length: Fraction  # [m]
    lost: tuple[Span, ...] = ()  # in any order; may overlap, be reversed or reach over the ends [m]
    rank: float = 0.0  # quality, greater is better
    started: bool = False  # it is opened: sawn, or itself sawn off another: going on costs no stick more
    width: Fraction | None = None  # section; None: it is never ripped [m]
    depth: Fraction | None = None  # [m]
    rough: tuple[bool, bool] = (False, False)  # width and depth as they came off the rip saw
    origin: str = ""  # tag of the stick it was sawn from, which counts once; empty: its own


@record
class CutRules:
    """The habits of the saw."""

    kerf: Fraction  # width of the blade's cut [m]
    end_trim: Fraction  # off each end of a stick, the blade included [m]
    margin: Fraction  # each side of a lost stretch [m]
    squaring: Fraction  # added to each part, both ends together [m]
    least_offcut: Fraction  # shortest leftover that is of use [m]
    rip_kerf: Fraction = Fraction(0)  # width of a cut along the grain [m]
    edge: Fraction = Fraction(0)  # off a plank's width before it is ripped [m]
    planing: Fraction = Fraction(0)  # off each face that is not at its finished size [m]


@record
class CutProblem:
    """Everything a plan depends on."""

    parts: tuple[CutPart, ...]
    sticks: tuple[CutStick, ...]
    rules: CutRules


@record
class Piece:
    """One part on its stick, squaring allowance included."""

    part: str
    start: Fraction  # [m]
    end: Fraction  # [m]


@record
class StickPlan:
    """What is cut from one stick, from its marked end."""

    tag: str
    pieces: tuple[Piece, ...]
    offcuts: tuple[Span, ...]  # every leftover longer than nothing, of use or not [m]
    strip: int = 0  # of a plank that is ripped first, from 1 in the order ripped; 0: not ripped
    width: Fraction | None = None  # the fence for that strip, planing included [m]


@record
class Unplaced:
    """Parts of one line that are not in the plan.

    `why` is "no_sticks" (there are none), "too_long" (longer than every clear length), "barred" (long enough
    are only sticks it may not be cut from) or "no_room" (the sticks are used up).
    """

    part: str
    quantity: int
    critical: bool
    why: str
    longest: Fraction  # longest clear length this part may be cut from; 0 if there is none [m]


class Proof:
    """What is proved about a plan; worked out when it is asked for, as the saw does not wait for it.

    Two are equal where they prove the same.
    """

    __slots__ = ("_found", "_work")

    def __init__(self, work: Callable[[], tuple[int, bool]]) -> None:
        """A proof to be worked out.

        Args:
            work: gives the fewest sticks, and whether nothing better exists; asked once at most.
        """
        self._work: Callable[[], tuple[int, bool]] | None = work
        self._found: tuple[int, bool] | None = None

    @classmethod
    def of(cls, fewest: int, optimal: bool) -> "Proof":
        """One that is known: the fewest sticks, and whether nothing better exists."""
        return cls(lambda: (fewest, optimal))

    @property
    def found(self) -> tuple[int, bool]:
        """The fewest sticks of any plan that leaves out as many parts; whether nothing better exists."""
        if self._work is not None:
            self._found = self._work()
            self._work = None  # and what it held
        assert self._found is not None
        return self._found

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Proof) and self.found == other.found

    def __hash__(self) -> int:
        return hash(self.found)

    def __repr__(self) -> str:
        return f"Proof.of{self.found}"


@record
class CutPlan:
    """A plan, what it leaves, and what is proved about it.

    A plank that gives two strips or more is ripped from end to end: each strip is a length of its own, with
    its own leftovers. What is left of the board beside the strips is a reusable piece, as long as each clear
    length, only if the narrowest strip wanted of that plank still fits there; it is no part of the waste. A
    plank that gives one strip only is not ripped, and leaves what a stick leaves.
    """

    sticks: tuple[StickPlan, ...]  # those with pieces, in the order of the problem; a row for each strip
    unplaced: tuple[Unplaced, ...]
    placed: int
    unplaced_count: int
    unplaced_critical: int
    sticks_used: int  # with pieces; a plank counts once, however many strips it gives or gave
    largest_offcut: Fraction  # longest reusable piece left anywhere in the stock; 0 if none [m]
    waste: Fraction  # of sticks with pieces, neither part nor reusable offcut [m]
    opened_length: Fraction  # of sticks with pieces, whole; of a ripped plank each strip [m]
    proof: Proof
    sticks_opened: int = 0  # those of the used ones that were not started before

    @property
    def fewest_possible(self) -> int:
        """No plan that leaves out as many parts opens fewer sticks."""
        return self.proof.found[0]

    @property
    def optimal(self) -> bool:
        """Proved: nothing is better in parts left out and sticks opened."""
        return self.proof.found[1]
