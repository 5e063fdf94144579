"""A part as cells of text, and each cell read back: the same in the table and in the list on the screen."""

import re
from collections.abc import Mapping

from bench import units
from bench.core.errors import BadInput
from bench.core.limits import USES
from bench.core.records import Part, Stretch, Typed
from bench.sheets import inspecting
from bench.sheets.table import text_of

PART, PIECES, BECOMES, CRITICAL, DRAWN_IN = "part", "pieces", "becomes", "critical", "drawn in"
LEAST, BEST, SCARF, NO_JOINT = "least G", "best sticks", "scarf", "no joint"
GRAIN, GROUP, PIECE_OF, NOTE = "grain", "group", "piece of", "note"
SIZES = ("length", "width", "depth")

REQUIRED = (PART, *SIZES)
COLUMNS = (
    *(PART, PIECES, *SIZES, BECOMES, CRITICAL, DRAWN_IN, LEAST, BEST),
    *(SCARF, NO_JOINT, GRAIN, GROUP, PIECE_OF, NOTE),
)
# What a refusal of a whole part calls it -> the column it stands in.
CALLED: Mapping[str, str] = {"quantity": PIECES, "least gravity": LEAST, "use": BECOMES}

SCARF_WANTED = "slope, and the side it is cut across if not the smaller: 1:12, 1:12 width; empty: no joint"
NO_JOINT_WANTED = "stretches of the finished part where no joint may lie: 0-12, 60-72; empty for none"

_STRETCHES = "stretches like 0-12; 60 to 72"
_NONE = ("", "-", "--", "no", "none")
_SIDED = re.compile(r"(.*?)\s+(width|depth)", re.IGNORECASE)
_COMMA_IN_A_NUMBER = re.compile(r"\d,\d")


def cells(part: Part) -> dict[str, str]:
    """Column -> text of one row.

    Args:
        part: whole.
    Returns:
        Every column; what is not said of the part is empty.
    """
    return {
        PART: part.name,
        PIECES: str(part.quantity),
        **{size: text_of(getattr(part, size), "length") for size in SIZES},
        BECOMES: inspecting.use_name(part.use),
        CRITICAL: "yes" if part.critical else "",
        DRAWN_IN: part.species,
        LEAST: text_of(part.minimum_sg, "gravity"),
        BEST: "yes" if part.best else "",
        SCARF: write_scarf(part),
        NO_JOINT: write_stretches(part.no_joint),
        GRAIN: part.grain,
        GROUP: part.group,
        PIECE_OF: part.piece_of,
        NOTE: part.note,
    }


def write_scarf(part: Part) -> str:
    """The joint a part may have as it is typed: `1:12`, `1:12 width`; empty for none."""
    return f"{part.scarf.text} {part.scarf_side}".strip() if part.scarf is not None else ""


def read_scarf(text: str) -> tuple[Typed | None, str]:
    """The joint a part may have.

    Args:
        text: slope, and the side that it is cut across where it is said; empty or no: no joint.
    Returns:
        Slope as rise over run [1] and "width", "depth" or "" for the smaller; None for no joint.
    Raises:
        BadInput: no slope.
    """
    said = text.strip()
    if said.lower() in _NONE:
        return None, ""
    sided = _SIDED.fullmatch(said)
    slope, side = (sided[1], sided[2].lower()) if sided else (said, "")
    return units.read("scarf", slope), side


def write_stretches(stretches: tuple[Stretch, ...]) -> str:
    """Stretches as they are typed, parted by semicolons."""
    return "; ".join(f"{stretch.start.text} to {stretch.end.text}" for stretch in stretches)


def read_stretches(text: str, default_unit: str = "") -> tuple[Stretch, ...]:
    """Stretches of a part, parted by semicolon or comma; nothing typed is none.

    Args:
        text: as typed.
        default_unit: unit of a bare number; "" for the customary one.
    Returns:
        In the order typed [m].
    Raises:
        BadInput: an end that cannot be read, a stretch without length, or a comma that may part stretches
            or be a decimal sign.
    """
    if text.strip().lower() in _NONE:
        return ()
    if met := _COMMA_IN_A_NUMBER.search(text):
        why = f"has {met[0]!r}, where the comma may part two stretches or be a decimal sign"
        raise BadInput(NO_JOINT, text.strip(), why, "a point in numbers and ; between stretches")
    ends = units.spans(text, default_unit)
    for start, end in ends:
        if start.exact == end.exact:
            raise BadInput(NO_JOINT, text.strip(), f"has {start.text}, a place without length", _STRETCHES)
    return tuple(Stretch(start, end) for start, end in ends)


def read_use(text: str) -> str:
    """What the wood becomes, by its name or a beginning that fits only one.

    Args:
        text: as typed.
    Returns:
        A name of limits.USES.
    Raises:
        BadInput: none begins so, or more than one does.
    """
    wanted = " ".join(text.lower().replace("_", " ").split())
    found = [use for use in USES if wanted and inspecting.use_name(use).startswith(wanted)]
    if len(found) != 1:
        raise BadInput(BECOMES, text, "is no use", ", ".join(inspecting.use_name(use) for use in USES))
    return found[0]
