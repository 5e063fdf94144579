"""Jobs with cut lists for the tests of sheet, labels, page and totals; every one is invented."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from core_cases import WOODS, after, ash_for_spruce, part, stick

from bench.core.cutting import Piece, StickPlan
from bench.core.edits import ChangeSettings, ChooseSection, PutPart, PutStick
from bench.core.edits_saw import SpoilPiece
from bench.core.records import Defect, Job, Part, SectionChoice, Settings, Spoilt, Stick, inches
from bench.core.river import River, flow
from bench.core.stretches import boards

INCH = Fraction(254, 10_000)
GOOD, DOUBTFUL, BAD = 6.9, 6.0, 5.2  # marks of white ash at 10 %: accept, hold, reject by gravity
NASTY = "<&\"'> & </svg>"


def inch(text: str | int) -> Fraction:
    """So many inches [m]."""
    return Fraction(text) * INCH


def job(
    *sticks: Stick,
    parts: Iterable[Part] = (),
    choice: SectionChoice | None = None,
    habits: Settings | None = None,
) -> Job:
    """A job of sticks and parts."""
    edits = [*map(PutStick, sticks), *map(PutPart, parts), ChooseSection(choice or ash_for_spruce())]
    return after([*edits, *([ChangeSettings(habits)] if habits else [])])


def unchecked(*sticks: Stick, parts: Iterable[Part] = ()) -> Job:
    """A job as a record of earlier rules may hold it: names that would be refused today."""
    made = job()
    for edit in (*map(PutStick, sticks), *map(PutPart, parts)):
        made = edit.change(made)
    return made


def plank(tag: str = "P") -> Stick:
    """An ash plank 5 by 1 in, 72 in long, with a knot that is cut round, a mark, and a streak that is not."""
    found = (
        Defect(inches("30"), inches("31"), "knot"),
        Defect(inches("32"), inches("32"), "pin_knots"),
        Defect(inches("50"), inches("60"), "mineral_streak"),
    )
    return replace(stick(tag, GOOD, length="72"), width=inches("5"), depth=inches("1"), defects=found)


def row(
    tag: str,
    strip: int,
    fence: str,
    pieces: Iterable[tuple[str, str, str]],
    offcuts: Iterable[tuple[str, str]],
) -> StickPlan:
    """One row of a plan, places in inches."""
    return StickPlan(
        tag,
        tuple(Piece(name, inch(start), inch(end)) for name, start, end in pieces),
        tuple((inch(start), inch(end)) for start, end in offcuts),
        strip,
        inch(fence) if fence else None,
    )


def ripped() -> River:
    """A plank of two strips and a stick, laid out by hand: kerf 1/8 in, edge 1/8 in; every name is nasty."""
    names = {"rib": ("20", 3), "cap": ("28", 2), "block": ("2", 2), "tiny": ("3/4", 2), "dot": ("1/4", 1)}
    parts = [part(f"{name} {NASTY}", *size) for name, size in names.items()]
    habits = replace(Settings(), edge=inches("1/8"))
    sticks = (plank(f"P{NASTY}"), stick("Q", GOOD))
    found = flow(job(*sticks, parts=parts, habits=habits), WOODS)
    assert found.plan is not None
    first = (("rib", "0", "20"), ("block", "161/8", "177/8"), ("tiny", "89/4", "23"))
    second = (
        ("cap", "0", "28"),
        ("rib", "257/8", "417/8"),
        ("block", "209/4", "217/4"),
        ("tiny", "435/8", "441/8"),
    )
    rows = (
        row(
            f"P{NASTY}", 1, "7/8",
            named((*first, ("dot", "185/8", "187/8"), ("cap", "65/2", "121/2"))),
            (("47/2", "30"), ("31", "32"), ("257/8", "259/8"), ("485/8", "72")),
        ),
        row(f"P{NASTY}", 2, "1", named(second), (("225/8", "30"), ("31", "32"), ("221/4", "72"))),
        row("Q", 0, "", named([("rib", "0", "20")]), (("161/8", "72"),)),
    )  # fmt: skip
    return replace(found, plan=replace(found.plan, sticks=rows, placed=10))


def named(pieces: Iterable[tuple[str, str, str]]) -> tuple[tuple[str, str, str], ...]:
    """Pieces by the names that `ripped` gives its parts."""
    return tuple((f"{name} {NASTY}", start, end) for name, start, end in pieces)


def spoilt(river: River, why: str = "tear-out") -> River:
    """The same after the first piece of the plan was ruined."""
    assert river.plan is not None
    first = river.plan.sticks[0]
    piece = first.pieces[0]
    lost = SpoilPiece(Spoilt(piece.part, first.tag, piece.start, piece.end, why))
    return flow(lost.apply(river.job), WOODS)


def every_piece(river: River) -> list[tuple[int, str, Fraction, Fraction]]:
    """Number, part and place of each piece of a plan, straight from the plan, numbered as at the saw."""
    return sorted(
        (run.number, run.part, run.start, run.end) for board in boards(river) for run in board.pieces
    )
