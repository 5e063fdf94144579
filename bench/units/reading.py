"""One value as people type it -> `Typed`."""

from bench.core.errors import BadInput, OutOfRange
from bench.core.records import Typed
from bench.units import grown
from bench.units.digits import Unread, split, tidy
from bench.units.kinds import KINDS, Kind
from bench.units.measuring import measure


def read(quantity_name: str, text: str, default: str = "") -> Typed:
    """Read one value as people write it, exactly.

    The text kept is the text typed, in plain characters, with the unit that a bare number took: `3/4` is kept
    as `3/4 in`, so that it means the same when the shop changes its units.

    Args:
        quantity_name: a key of `kinds.KINDS`: length [m], mass [kg], force [N], temperature [K],
            moisture, humidity and share (typed in percent) [1], angle [deg], seconds [s], mark [marks], slope
            of grain and scarf (rise over run) [1], rings [1/m], gravity, number and count [1].
        text: what was typed.
        default: unit of a bare number, as a word of that kind; "" for the customary one.
    Returns:
        The exact value in SI and the text.
    Raises:
        BadInput: the text cannot be read; says why and what would be.
        OutOfRange: it can be read and cannot be true.
    """
    kind = KINDS[quantity_name]
    plain = tidy(text)
    try:
        typed = _value(kind, plain, default)
    except Unread as fault:
        raise BadInput(quantity_name, plain, fault.why, fault.wanted or kind.wanted) from None
    outside = (kind.least is not None and typed.exact < kind.least) or (
        kind.most is not None and typed.exact > kind.most
    )
    if outside:
        raise OutOfRange(quantity_name, typed.si, kind.limits, typed.text)
    return typed


def _value(kind: Kind, plain: str, default: str) -> Typed:
    if kind.name not in ("slope", "scarf", "rings"):
        return measure(kind, plain, default)
    split(plain)  # empty, endless or too long: said before anything else
    return grown.rings(plain) if kind.name == "rings" else grown.slope(plain)
