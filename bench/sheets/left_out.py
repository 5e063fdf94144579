"""Why pieces of a job have no place in its layout, and what would give them one."""

from fractions import Fraction

from bench import units
from bench.core.cutting import Unplaced
from bench.core.laying import SizedPart
from bench.core.overlong import Overlong, overlong
from bench.core.river import River
from bench.sheets import wording


def rows(river: River) -> tuple[tuple[Unplaced, str], ...]:
    """What is left out of the layout, each with the reason."""
    sized = {sized.part.name: sized for sized in river.parts}
    left = river.plan.unplaced if river.plan else ()
    return tuple((out, reason(river, sized.get(out.part), out)) for out in left)


def reason(river: River, sized: SizedPart | None, out: Unplaced) -> str:
    """Why one line is left out, wholly or in part."""
    settings = river.job.settings
    if sized is not None and out.why in ("too_long", "barred") and sized.barred_by not in wording.BARRED:
        found = overlong(sized, river.problem, settings.least_piece.exact)
        if found is not None:
            return _too_long(found, sized.part.piece_of, settings.units)
    return wording.unplaced(out, sized.barred_by if sized else "", settings.units)


def _too_long(found: Overlong, piece_of: str, system: str) -> str:
    """By how much, and what a scarf would do."""
    longest, over = units.tape(found.longest, system), _up(found.over, system)
    said = f"longer than any clear length by {over} ({longest} is the longest)"
    if piece_of:
        return said
    if found.lengths is None:
        return f"{said}; all that may become it is too short together, scarfed or not"
    made = f"{found.lengths} lengths, {_up(found.total, system)} of wood in all"
    slope = units.slope(found.slope)
    if found.allowed:
        return f"{said}; scarfed {slope} it takes {made}, and no place was found for them"
    joint = _up(found.joint, system)
    return f"{said}; scarfed {slope} (each joint {joint}) it would be {made}: allow a scarf in Parts"


def _up(length: Fraction, system: str) -> str:
    """What is needed, never less."""
    return units.place(length, system, up=True)
