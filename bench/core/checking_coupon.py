"""What a coupon, a blow and a reading of a load must be before a job takes them."""

from bench.core import checking
from bench.core.coupon import (
    BEND,
    BENDING,
    BROKEN,
    DROP,
    GLUE,
    OUTCOMES,
    PULLS,
    SLIDE,
    TESTS,
    Blow,
    Coupon,
    LoadPoint,
)
from bench.core.errors import Clash, OutOfRange
from bench.core.typed import Typed

LONGEST_TEST = 500  # blows, heights or readings of one coupon
HEAVIEST_KG = 2000
HIGHEST_LOAD_N = 1e7


def coupon(record: Coupon) -> None:
    """Refuse a coupon that cannot be.

    Args:
        record: the coupon with its test.
    Raises:
        Missing: no tag. OutOfRange: a size, weight, height or load of zero or less, a share over the whole,
            an unknown test, a density that no wood has, a span or reach longer than the coupon. Clash: a
            blow after the one that broke it.
    """
    checking.name("coupon", record.tag)
    _one_of("test", record.test, TESTS)
    _one_of("pull", record.pull, PULLS)
    for field in ("width", "depth", "length", "span", "striker", "deflection", "reach", "jaw", "glued"):
        typed: Typed | None = getattr(record, field)
        if typed is not None:
            checking.size(field.replace("_", " "), typed)
    for field in ("mass", "weight"):
        _above(field, getattr(record, field), HEAVIEST_KG, "kg")
    _above("load", record.load, HIGHEST_LOAD_N, "N")
    for field in ("fibre_one", "fibre_two"):
        _share(field.replace("_", " "), getattr(record, field), 1, "0 to 100 % is possible")
    _share("scarf", record.scarf, 1, "1:30 to 1:1 is possible, say 1:12")
    if record.scarf is not None and not record.scarf.exact > 0:
        raise OutOfRange("scarf", record.scarf.si, "a slope above zero: say 1:12", record.scarf.text)
    _share("moisture", record.moisture, 2, "0 to 200 % is possible")
    for field in ("group", "lot"):
        if len(getattr(record, field)) > 40:
            raise OutOfRange(field, getattr(record, field)[:12] + "...", "40 characters is the most")
    for field in ("aside", "note"):
        checking.length_of_text(field, getattr(record, field))
    for field in ("steps", "blows", "points"):
        if len(getattr(record, field)) > LONGEST_TEST:
            raise OutOfRange(field, len(getattr(record, field)), f"{LONGEST_TEST} is the most of one coupon")
    for step in record.steps:
        checking.size("height", step)
    _density(record)
    _long_enough(record)
    before: tuple[Blow, ...] = ()
    for one in record.blows:
        blow(record.tag, before, one)
        before = (*before, one)
    for each in record.points:
        point(each)


def blow(tag: str, before: tuple[Blow, ...], one: Blow) -> None:
    """Refuse a blow that cannot be.

    Args:
        tag: of the coupon.
        before: the blows it has had.
        one: the next.
    Raises:
        OutOfRange: a height of zero or less. Clash: the coupon is broken already.
    """
    checking.size("height", one.height)
    _one_of("seen", one.seen, OUTCOMES)
    if any(other.seen == BROKEN for other in before):
        raise Clash("blow", tag, "it is broken: no blow counts after that; undo takes the last one back")
    if len(before) >= LONGEST_TEST:
        raise OutOfRange("blows", len(before) + 1, f"{LONGEST_TEST} is the most of one coupon")


def point(one: LoadPoint) -> None:
    """Refuse a reading that cannot be.

    Args:
        one: load [N] and deflection [m].
    Raises:
        OutOfRange: a load or deflection below zero, or one that no bench carries.
    """
    if not 0 <= one.load.exact <= HIGHEST_LOAD_N:
        raise OutOfRange("load", one.load.si, "0 or more is wanted", one.load.text)
    if not 0 <= one.deflection.exact <= checking.LONGEST_M:
        raise OutOfRange("deflection", one.deflection.si, "0 or more is wanted", one.deflection.text)


def next_point(tag: str, before: tuple[LoadPoint, ...], one: LoadPoint) -> None:
    """Refuse a pair that cannot come after those before it.

    Args:
        tag: of the coupon.
        before: its pairs.
        one: the next.
    Raises:
        OutOfRange: as `point`, a deflection that falls, or a load after the coupon carried none.
    """
    point(one)
    if before and one.deflection.exact < before[-1].deflection.exact:
        raise OutOfRange(
            "deflection",
            one.deflection.si,
            f"it was {before[-1].deflection.text} already; type the pair again, or undo takes that one back",
            one.deflection.text,
        )
    loads = [each.load.exact for each in before]
    if any(loads) and loads[-1] == 0 and one.load.exact > 0:
        raise OutOfRange("load", one.load.si, f"{tag} carried nothing before: it has failed", one.load.text)


def _one_of(field: str, word: str, known: tuple[str, ...]) -> None:
    if word not in known:
        raise OutOfRange(field, word, f"one of {', '.join(known)} is wanted", repr(word))


def _above(field: str, typed: Typed | None, most: float, unit: str) -> None:
    if typed is not None and not 0 < typed.exact <= most:
        raise OutOfRange(field, typed.si, f"more than 0 and up to {most:g} {unit} is possible", typed.text)


def _share(field: str, typed: Typed | None, most: int, limits: str) -> None:
    if typed is not None and not 0 <= typed.exact <= most:
        raise OutOfRange(field, typed.si, limits, typed.text)


def _density(record: Coupon) -> None:
    if record.mass is None or record.length is None:
        return
    volume = record.width.exact * record.depth.exact * record.length.exact
    wet = record.moisture.exact if record.moisture is not None else 0
    if record.mass.exact / volume > checking.DENSEST * (1 + wet):
        raise OutOfRange(
            "mass",
            record.mass.si,
            f"no wood is denser than {checking.DENSEST} kg/m3: look at size, length and unit",
            record.mass.text,
        )


def _long_enough(record: Coupon) -> None:
    """Refuse a coupon that does not reach over its supports, or from the jaw to the weight."""
    if record.length is None:
        return
    spanned = record.test in (DROP, BEND) or (record.test == GLUE and record.pull == BENDING)
    held = record.jaw.exact if record.jaw is not None else 0
    needed = {"span": (spanned, 0), "reach": (record.test == SLIDE, held)}
    for field, (asked, more) in needed.items():
        typed: Typed | None = getattr(record, field)
        if asked and typed is not None and typed.exact + more > record.length.exact:
            also = f" with {record.jaw.text} in the jaw" if more and record.jaw is not None else ""
            raise OutOfRange(
                field,
                typed.si,
                f"the coupon is {record.length.text} long, which is less{also}: look at {field} and length",
                typed.text,
            )
