"""An invented stick that nothing is wrong with, its changes and defects, and how it is judged."""

from dataclasses import replace
from fractions import Fraction

from core_cases import SPRUCE, typed

from bench.core import acceptance
from bench.core.acceptance import ACCEPT, Verdict
from bench.core.holding import worst
from bench.core.inspecting import Judgement, Point, judge_use
from bench.core.limits import SMALL_PART
from bench.core.records import Defect, House, Inspection, Settings, Species, Stick, Typed, inches


def per_inch(count: str) -> Typed:
    return Typed(Fraction(count) / Fraction("0.0254"), f"{count} per in")


def one_in(run: str) -> Typed:
    return Typed(1 / Fraction(run), f"1:{run}")


# Invented: a stick that nothing is wrong with, 96 x 3 x 1.5 in.
SOUND = Stick(
    "T",
    "sitka_spruce",
    inches("96"),
    inches("3/2"),
    inches("3"),
    typed("0.10"),
    inspection=Inspection(
        rings=per_inch("8"),
        slope_one=one_in("30"),
        slope_two=one_in("25"),
        edge_grain=typed(Fraction(3, 4)),
        bow=inches("1/100"),
        looked=True,
    ),
)
FIGURE = acceptance.limit(SPRUCE, "specific_gravity_minimum")
PLAIN = Settings()
GOOD = Verdict(ACCEPT, ("above_minimum",), 0.41, 0.39, 0.43, FIGURE)


def seen_as(stick: Stick = SOUND, **changes: object) -> Stick:
    return replace(stick, inspection=replace(stick.inspection, **changes))


def judged(
    stick: Stick = SOUND,
    use: str = SMALL_PART,
    settings: Settings = PLAIN,
    species: Species | None = SPRUCE,
    gravity: Verdict = GOOD,
) -> Judgement:
    return judge_use(stick, species, gravity, use, settings)


def point(judgement: Judgement, name: str) -> Point:
    return next(one for one in judgement.points if one.name == name)


def found(
    kind: str,
    start: str = "40",
    end: str = "41",
    size: str | None = None,
    depth: str | None = None,
    edge: str | None = None,
) -> Defect:
    """A defect, all in inches."""
    lengths = (None if text is None else inches(text) for text in (size, depth, edge))
    return Defect(inches(start), inches(end), kind, *lengths)


def of_defect(
    *defects: Defect, use: str = SMALL_PART, document: str = "stricter", stick: Stick = SOUND, **house: Typed
) -> Point:
    """The point of the first defect."""
    settings = Settings(document=document, house=House(**house))
    judgement = judged(replace(stick, defects=defects), use, settings)
    return next(one for one in judgement.points if one.defect is defects[0])


def says(point: Point, document: str) -> str:
    """The worst word of one document on a point; empty where it does not speak."""
    heard = [held.word for held in point.held if held.document == document]
    return worst(heard) if heard else ""
