"""Random jobs in the middle of being sawn, every one invented: at each step the cut on show or a mishap."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from random import Random

from bench.core import sawing
from bench.core.edits import (
    CondemnStick,
    CutShort,
    Edit,
    MarkCut,
    PutParts,
    PutStick,
    PutSticks,
    RipPlank,
    SpoilPiece,
    StartJob,
)
from bench.core.history import EMPTY
from bench.core.records import (
    CutMade,
    Defect,
    FloatReading,
    Part,
    Settings,
    Species,
    Spoilt,
    Stick,
    Stretch,
    Typed,
    inches,
)
from bench.core.river import River
from bench.core.sawing import SawStep
from bench.ui.ledger import Ledger
from tests.tools.sticks import SOUND

AT = "2031-05-01T08:00:00"
INCH = Fraction(254, 10_000)
DRY = Typed(Fraction(1, 10), "10 %")
FLOATED = FloatReading(
    (4.5, 4.5), inches("1/2"), inches("5"), DRY, Typed(Fraction(29315, 100), "20 C"), angle="none"
)


def inch(length: Fraction | int | str) -> Typed:
    """So many inches, with a text that reads back."""
    return Typed(Fraction(length) * INCH, f"{Fraction(length)} in")


def sound(tag: str, length: Fraction | int | str, width: str = "3/4", depth: str = "3/4") -> Stick:
    """A stick of Sitka spruce that is accepted for every use."""
    sides = inch(width), inch(depth)
    return Stick(tag, "sitka_spruce", inch(length), *sides, DRY, readings=(FLOATED,), inspection=SOUND)


def square(name: str, length: Fraction | int | str, quantity: int = 1, **more: object) -> Part:
    """A part 3/4 by 3/4 in."""
    part = Part(name, inch(length), inch("3/4"), inch("3/4"), quantity)
    return replace(part, **more)  # type: ignore[arg-type]


def begun(
    woods: dict[str, Species],
    sticks: tuple[Stick, ...],
    parts: tuple[Part, ...],
    settings: Settings | None = None,
) -> Ledger:
    """A job of these, laid out; nothing is sawn yet."""
    ledger = Ledger(EMPTY, woods, [])
    ledger.accept(StartJob("saw", settings=settings or Settings()), AT)
    ledger.accept(PutParts(parts), AT)
    ledger.accept(PutSticks(sticks), AT)
    ledger.flow()
    return ledger


def made(ledger: Ledger, edit: Edit) -> River:
    """An edit accepted, and the layout that came of it kept, as the screen does it."""
    ledger.accept(edit, AT)
    ledger.flow()
    entry, _ = ledger.lay_out(AT)
    river = ledger.flow()[0] if entry is not None else ledger.river
    assert river is not None
    return river


def steps(river: River) -> tuple[SawStep, ...]:
    """The cuts still to be made."""
    assert river.plan is not None
    return sawing.queue(river.job, river.plan)


def ticked(river: River, step: SawStep) -> Edit:
    """What ticking off a step says: its plank is ripped, or it is cut."""
    piece = step.piece
    stick, sized = river.job.stick(piece.stick), {one.part.name: one for one in river.parts}[piece.part]
    assert stick is not None and river.plan is not None
    ripped = sawing.rip(river.job, river.plan, stick) if piece.strip else None
    if ripped is not None:
        return RipPlank(ripped.tag, ripped.fences, ripped.rest)
    return MarkCut(CutMade(piece.part, piece.stick, piece.start, piece.end, sized.width, sized.depth))


def mishap(random: Random, river: River, step: SawStep, number: int) -> Edit:
    """Something that goes wrong with a cut, or with the stick in the saw; or wood that comes in."""
    piece, stick = step.piece, river.job.stick(step.piece.stick)
    assert stick is not None
    kind = random.randrange(5 if not piece.strip else 3)
    if kind == 0:
        place = inch(random.randint(0, int(stick.length.exact / INCH)))
        return PutStick(replace(stick, defects=(*stick.defects, Defect(place, place, "knot"))), stick.tag)
    if kind == 1:
        return PutStick(random_stick(random, f"N{number}"))
    if kind == 2:
        return CondemnStick(piece.stick, "rot")
    if kind == 3:
        return SpoilPiece(Spoilt(piece.part, piece.stick, piece.start, piece.end, "torn"))
    part = river.job.part(piece.part)
    assert part is not None
    length = Fraction(int(part.length.exact / INCH * random.randint(50, 99) / 100 * 8), 8)
    return CutShort(piece.part, piece.stick, piece.start, inch(max(length, Fraction(1))), f"short {number}")


def random_stick(random: Random, tag: str) -> Stick:
    """A stick or, in one case of three, a plank."""
    length = Fraction(random.randint(8 * 30, 8 * 120), 8)
    if random.random() < 0.35:
        stick = sound(
            tag, length, str(Fraction(random.randint(12, 40), 8)), random.choice(["3/4", "7/8", "1"])
        )
    else:
        stick = sound(tag, length, *[random.choice(["3/4", "7/8", "1"])] * 2)
    if random.random() < 0.3:
        place = random.randint(5, 25)
        stick = replace(stick, defects=(Defect(inch(place), inch(place + 1), "knot"),))
    return stick


def random_job(random: Random, woods: dict[str, Species]) -> Ledger:
    """A few sticks and planks, more parts than may fit, some of which may be scarfed."""
    settings = Settings(
        kerf=inch(random.choice(["1/8", "3/32", "1/16"])),
        end_trim=inch(random.choice(["0", "1/2"])),
        squaring=inch(random.choice(["0", "1/8"])),
        rip_kerf=random.choice([None, inch("3/32")]),
        edge=inch(random.choice(["0", "1/8", "1/4"])),
        planing=inch(random.choice(["0", "1/16"])),
    )
    parts = []
    for number in range(random.randint(3, 7)):
        long = random.random() < 0.15
        part = square(
            f"p{number}", Fraction(random.randint(8 * 60, 8 * 140) if long else random.randint(40, 400), 8)
        )
        sides = random.choice(
            [("3/4", "3/4"), ("3/4", "3/4"), ("1/2", "3/4"), ("5/8", "3/4"), ("1/2", "1/2")]
        )
        part = replace(
            part, quantity=1 if long else random.randint(1, 4), width=inch(sides[0]), depth=inch(sides[1])
        )
        if random.random() < 0.3:
            part = replace(part, scarf=Typed(Fraction(1, 12), "1:12"))
            part = replace(part, no_joint=(Stretch(inch(0), inch(4)),)) if random.random() < 0.5 else part
        parts.append(replace(part, critical=random.random() < 0.3))
    sticks = tuple(random_stick(random, f"S{number}") for number in range(random.randint(2, 6)))
    return begun(woods, sticks, tuple(parts), settings)


def walk(random: Random, ledger: Ledger, most: int) -> Iterator[tuple[River, Edit, River]]:
    """Step after step of sawing, until nothing is left: the river before, what happened, the one after."""
    river = ledger.river
    assert river is not None
    for number in range(most):
        queue = steps(river)
        if not queue:
            return
        step = queue[0] if random.random() < 0.7 else random.choice(queue)
        edit = ticked(river, step) if random.random() < 0.7 else mishap(random, river, step, number)
        after = made(ledger, edit)
        yield river, edit, after
        river = after
