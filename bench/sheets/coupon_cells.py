"""The cells of the list of coupons: as they are typed and as they stand there."""

from collections.abc import Callable
from fractions import Fraction

from bench import units
from bench.core.checking_coupon import LONGEST_TEST
from bench.core.coupon import BEND, DROP, GLUE, SLIDE, TESTS, Coupon
from bench.core.errors import BadInput
from bench.core.quantities import INCH
from bench.core.typed import Typed

HEIGHTS_WANTED = "heights like 1 to 10, 12 to 26 by 2, or 6, 8, 10"
# Field of a coupon that is measured -> quantity it is read as.
MEASURED = {
    "width": "length",
    "depth": "length",
    "length": "length",
    "span": "length",
    "striker": "length",
    "deflection": "length",
    "reach": "length",
    "jaw": "length",
    "glued": "length",
    "mass": "mass",
    "weight": "mass",
    "moisture": "moisture",
    "load": "force",
    "scarf": "scarf",
    "fibre_one": "share",
    "fibre_two": "share",
}
_USED = {  # field -> tests that have a use for it; the others have one for every test
    "span": (DROP, BEND, GLUE),
    "weight": (DROP, SLIDE),
    "striker": (DROP,),
    "steps": (DROP,),
    "deflection": (DROP,),
    "load": (BEND, GLUE),
    "reach": (SLIDE,),
    "jaw": (SLIDE,),
    "pull": (GLUE,),
    "glued": (GLUE,),
    "scarf": (GLUE,),
    "fibre_one": (GLUE,),
    "fibre_two": (GLUE,),
}
_STEP = {"in": INCH, "mm": Fraction(1, 100)}  # between two heights where none is said: 1 in, or 10 mm


def read_heights(text: str, system: str = "in") -> tuple[Typed, ...]:
    """A plan of heights: single ones and runs, in order; a run without a step rises by 1 in or 10 mm.

    Args:
        text: as `1 to 10, 12 to 26 by 2`; empty for none.
        system: unit of bare numbers, "in" or "mm".
    Returns:
        Each height [m].
    Raises:
        BadInput: a height that cannot be read, a step of nothing, more heights than one coupon can have.
    """
    found: list[Typed] = []
    for item in (item.strip() for item in text.split(",") if item.strip()):
        ends, _, by = item.partition(" by ")
        low, _, high = ends.partition(" to ")
        first = units.read("length", low, system)
        if not high.strip():
            found.append(first)
            continue
        last = units.read("length", high, system)
        step = units.read("length", by, system).exact if by.strip() else _STEP[system]
        if step <= 0:
            raise BadInput("heights", item, "has a step of nothing", HEIGHTS_WANTED)
        if abs(last.exact - first.exact) / step + len(found) > LONGEST_TEST:
            raise BadInput("heights", item, f"is more than {LONGEST_TEST} heights", HEIGHTS_WANTED)
        sign = 1 if last.exact >= first.exact else -1
        count = int(abs(last.exact - first.exact) / step)
        heights = (first.exact + sign * number * step for number in range(count + 1))
        found += [Typed(height, units.place(height, system)) for height in heights]
    return tuple(found)


def write_heights(heights: tuple[Typed, ...]) -> str:
    """The plan as it is read back: every height, runs of equal steps drawn together."""
    rows: list[str] = []
    place = 0
    while place < len(heights):
        end = place + 1
        step = heights[end].exact - heights[place].exact if end < len(heights) else Fraction(0)
        while end + 1 < len(heights) and heights[end + 1].exact - heights[end].exact == step:
            end += 1
        if end - place < 2 or not step:
            rows.append(heights[place].text)
            place += 1
            continue
        system = "mm" if heights[place].text.strip().endswith("mm") else "in"
        by = units.place(abs(step), system)
        rows.append(f"{heights[place].text} to {heights[end].text} by {by}")
        place = end + 1
    return ", ".join(rows)


def text_of(coupon: Coupon, name: str) -> str:
    """One cell as it is typed; empty where there is nothing."""
    if name in MEASURED:
        typed: Typed | None = getattr(coupon, name)
        return typed.text if typed is not None else ""
    if name == "wood":
        return coupon.stick or coupon.species
    if name == "steps":
        return write_heights(coupon.steps)
    return str(getattr(coupon, name))


def changed(
    coupon: Coupon, name: str, text: str, system: str, read: Callable[[str, str, str, str], Typed]
) -> Typed | None:
    """A measured cell typed over; None where it was emptied. `read` is given field, quantity, text, unit."""
    if not text.strip() and name not in ("width", "depth"):
        return None
    quantity = MEASURED[name]
    default = system if quantity == "length" else ""
    return read(name.replace("_", " "), quantity, text, default)


def used(coupon: Coupon, name: str) -> bool:
    """Whether a test of this kind has a use for a field."""
    return coupon.test in _USED.get(name, TESTS)


def set_up(coupon: Coupon) -> str:
    """Everything typed of a coupon beside its size, as it was typed; only what its test has a use for."""
    said = [
        f"{name.replace('_', ' ')} {text}"
        for name in (*MEASURED, "steps", "pull", "lot", "group", "taken", "note")
        if name not in ("width", "depth") and used(coupon, name) and (text := text_of(coupon, name))
    ]
    return ", ".join(said) or "nothing more"
