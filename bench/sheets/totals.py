"""The totals of a cut list in words, with units and basis; what costs is rounded up, what is allowed down."""

from collections.abc import Mapping
from math import ceil, floor
from types import MappingProxyType

from bench import units
from bench.core.quantities import POUND
from bench.core.records import Settings, Species
from bench.core.totals import Totals
from bench.sheets import sections

_HAIR = 1e-9  # binary noise, taken for nothing [1]
_STEPS = 1000  # of a pound or a kilogram that are shown


def weight_up(mass: float, system: str = "in") -> str:
    """A weight rounded up: `12.346 lb`, or `5.601 kg`.

    Args:
        mass: the weight [kg].
        system: "in" or "mm".
    """
    value, unit = _in_units(mass, system)
    return f"{ceil(value * _STEPS * (1 - _HAIR)) / _STEPS:.3f} {unit}"


def weight_down(mass: float, system: str = "in") -> str:
    """A weight rounded down: what the drawing allows, never shown as more than it is.

    Args:
        mass: the weight [kg].
        system: "in" or "mm".
    """
    value, unit = _in_units(mass, system)
    return f"{floor(value * _STEPS * (1 + _HAIR)) / _STEPS:.3f} {unit}"


def lines(
    found: Totals, settings: Settings, woods: Mapping[str, Species] = MappingProxyType({})
) -> tuple[tuple[str, str], ...]:
    """The totals as pairs of what it is and the figure with its basis.

    Args:
        found: of core.totals.
        settings: of the job, for the unit and the least offcut.
        woods: the library, for the names of woods; without any the weights are left out.
    Returns:
        Pairs, to be written in two columns.
    """
    rows = [("pieces", _pieces(found)), ("sticks", _sticks(found, settings.units))]
    if found.opened:
        rows.append(("waste", _waste(found, settings)))
    if found.pieces and woods:
        rows += _weights(found, settings.units, woods)
    return tuple(rows)


def _pieces(found: Totals) -> str:
    critical = f" ({found.unplaced_critical} CRITICAL)" if found.unplaced_critical else ""
    left_out = f"{found.unplaced} without a place{critical}"
    return f"{found.pieces}: {found.cut} cut, {found.placed} laid out, {left_out}"


def _sticks(found: Totals, system: str) -> str:
    length = f", together {units.place(found.opened, system)}" if found.opened else ""
    return f"{found.sticks} opened, {found.fresh} of them not cut from yet{length}"


def _waste(found: Totals, settings: Settings) -> str:
    share = f"{ceil(found.waste_share * 1000 * (1 - _HAIR)) / 10:.1f} %"
    least = units.place(settings.least_offcut.exact, settings.units)
    of = f"of all {found.sticks} sticks, those cut from already among them"
    return f"{share} {of}: trims, kerf, lost, spoiled, and what is left under {least}"


def _weights(found: Totals, system: str, woods: Mapping[str, Species]) -> list[tuple[str, str]]:
    missing = []
    if found.unsized:
        missing.append(f"no size in the new wood: {', '.join(found.unsized)}")
    if found.unknown:
        names = [woods[key].name if key in woods else key for key in found.unknown]
        missing.append(f"no average gravity known of {', '.join(names)}")
    why = f"NOT KNOWN: {'; '.join(missing)}"
    rows = [("weight", why if found.new is None else f"{weight_up(found.new, system)}{_against(found)}")]
    if found.as_placed is not None and found.by_stick:
        whose = f"{found.by_stick} of {found.pieces} pieces by their own stick's gravity"
        rows.append(("as placed", f"{weight_up(found.as_placed, system)}: {whose}"))
    rows.append(("drawing", why if found.drawn is None else f"{_drawn(found, system)} as drawn, in its wood"))
    overlap = "; lengths of scarfed parts with what their joints overlap" if found.scarfed else ""
    basis = "all pieces at finished size, cut ones as cut; handbook average gravity"
    rows.append(("basis", f"{basis}, {units.percent(found.moisture)} moisture{overlap}"))
    return rows


def _drawn(found: Totals, system: str) -> str:
    """The drawing's weight; of equal weights, one rounded up and one down, no two figures are shown."""
    assert found.drawn is not None
    if found.new is not None and abs(found.new - found.drawn) <= _HAIR * found.drawn:
        return "the same,"
    return weight_down(found.drawn, system)


def _against(found: Totals) -> str:
    if found.new is None or not found.drawn:
        return " in the wood it is made of"
    return f" in the wood it is made of, {sections.share('weight', found.new / found.drawn)} of the drawing's"


def _in_units(mass: float, system: str) -> tuple[float, str]:
    return (mass, "kg") if system == "mm" else (mass / float(POUND), "lb")
