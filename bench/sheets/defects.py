"""One defect as people type it, and back: `30-32 knot 1/4 deep 1/8 edge 3/8`.

A stretch from the marked end, the kind, its size across the grain, how deep it goes, and how far it keeps
from the nearer edge of its face. Everything after the stretch may be left out.
"""

import re

from bench import units
from bench.core.errors import BadInput, Refusal, UnknownName
from bench.core.limits import KINDS
from bench.core.naming import nearest
from bench.core.records import Defect, Typed
from bench.units.kinds import KINDS as MEASURES

WANTED = "stretch, kind and sizes like 30-32 knot 1/4 deep 1/8 edge 3/8, or a stretch alone"
WANTED_ALL = "from its marked end: 30-32 knot 1/4 deep 1/8 edge 3/8; 41 5/8 - 42; empty for none"
KIND_OF_DEFECT = "kind of defect"

_DEEP, _EDGE = "deep", "edge"
_WORD = re.compile(r"[A-Za-z]+(?:[-_][A-Za-z]+)*\.?")
# Words that belong to a stretch, never to a kind.
_OF_A_STRETCH = frozenset(
    {"to", "yard", "yards", "metre", "metres", "meter", "meters"}
    | {word for word in MEASURES["length"].units if word.isalpha()}
    | {f"{part}{word}" for part in ("milli", "centi") for word in ("metre", "metres", "meter", "meters")}
)
_PARTED = re.compile(r"[;,\n]")
_COMMA_IN_A_NUMBER = re.compile(r"\d,\d")


def read(text: str, default_unit: str = "") -> Defect:
    """One defect as typed.

    Args:
        text: one item, without comma or semicolon.
        default_unit: unit of a bare number; "" for the customary one.
    Returns:
        The defect, every length with its text as typed.
    Raises:
        BadInput: a stretch or length that cannot be read, or something said twice.
        UnknownName: no kind, or more than one, begins so; says the nearest.
    """
    tokens = text.split()
    start = next((place for place, token in enumerate(tokens) if _opens_kind(tokens, place)), len(tokens))
    stop = start
    while stop < len(tokens) and _WORD.fullmatch(tokens[stop]) and not _keyword(tokens[stop]):
        stop += 1
    spans = units.spans(" ".join(tokens[:start]), default_unit)
    if len(spans) != 1:
        why = "has more than one stretch" if spans else "has no stretch before its kind"
        raise BadInput("defect", text.strip(), why, WANTED)
    kind = kind_of(" ".join(tokens[start:stop])) if stop > start else ""
    lengths = _lengths(text.strip(), tokens[stop:], default_unit)
    if "size" in lengths and not kind:
        raise BadInput("defect", text.strip(), "has a size and no kind", WANTED)
    return Defect(*spans[0], kind, lengths.get("size"), lengths.get(_DEEP), lengths.get(_EDGE))


def read_all(text: str, default_unit: str = "") -> tuple[Defect, ...]:
    """Defects parted by semicolon or comma; nothing typed is none.

    A comma within a number is refused: `30-32 knot 6,5 mm` would be two defects.

    Args:
        text: as typed.
        default_unit: unit of a bare number; "" for the customary one.
    Returns:
        The defects in the order typed.
    Raises:
        BadInput: as `read`, for the first item that cannot be read.
        UnknownName: as `read`.
    """
    if met := _COMMA_IN_A_NUMBER.search(text):
        why = f"has {met[0]!r}, where the comma may part two defects or be a decimal sign"
        raise BadInput("defects", text.strip(), why, "a point in numbers and ; between defects")
    items = [item for item in _PARTED.split(text) if item.strip()]
    return tuple(read(item, default_unit) for item in items)


def write(defect: Defect) -> str:
    """A defect as it is typed; `read` gives the same defect back.

    Args:
        defect: any.
    Returns:
        One item.
    """
    same = defect.start == defect.end
    pieces = [defect.start.text if same else f"{defect.start.text} to {defect.end.text}"]
    pieces += [kind_words(defect.kind)] if defect.kind else []
    pieces += [defect.size.text] if defect.size else []
    pieces += [_DEEP, defect.depth.text] if defect.depth else []
    pieces += [_EDGE, defect.edge.text] if defect.edge else []
    return " ".join(pieces)


def write_all(defects: tuple[Defect, ...]) -> str:
    """Defects as they are typed, parted by semicolons."""
    return "; ".join(write(defect) for defect in defects)


def short(defects: tuple[Defect, ...]) -> str:
    """How many, then where and what, in as few characters as can be; never read back."""
    told = []
    for defect in defects:
        ends = dict.fromkeys(
            typed.text.removesuffix(" in").removesuffix(" mm") for typed in (defect.start, defect.end)
        )
        told.append(f"{'-'.join(ends)} {kind_words(defect.kind)}".strip())
    return f"{len(told)}: {', '.join(told)}" if told else "none"


def kind_words(kind: str) -> str:
    """A kind in words: `pitch pocket`."""
    return kind.replace("_", " ")


def kind_of(text: str) -> str:
    """A kind by its name, or by a beginning that fits only one.

    Args:
        text: as typed; letter case, blanks, hyphens and underscores do not matter.
    Returns:
        A name of limits.KINDS.
    Raises:
        UnknownName: none begins so, or more than one does; says which.
    """
    wanted = "_".join(re.split(r"[\s_-]+", text.strip().rstrip(".").lower()))
    fitting = tuple(kind for kind in KINDS if wanted and kind.startswith(wanted))
    if wanted in KINDS or len(fitting) == 1:
        return wanted if wanted in KINDS else fitting[0]
    near = fitting or nearest(wanted, KINDS) or KINDS
    raise UnknownName(KIND_OF_DEFECT, text.strip(), tuple(kind_words(kind) for kind in near))


def _keyword(token: str) -> bool:
    return token.lower() in (_DEEP, _EDGE)


def _opens_kind(tokens: list[str], place: int) -> bool:
    """Whether the stretch ends before this token: a word of letters that is neither a unit nor "to"."""
    word = tokens[place].lower().rstrip(".")
    return bool(_WORD.fullmatch(tokens[place])) and word not in _OF_A_STRETCH


def _lengths(item: str, tokens: list[str], default_unit: str) -> dict[str, Typed]:
    """Size, depth and distance from the edge, as far as they are there."""
    parts: dict[str, list[str]] = {}
    here = parts.setdefault("size", [])
    for token in tokens:
        if not _keyword(token):
            here.append(token)
        elif token.lower() in parts:
            raise BadInput("defect", item, f"says {token.lower()} twice", WANTED)
        else:
            here = parts.setdefault(token.lower(), [])
    if not parts["size"]:
        del parts["size"]
    return {name: _length(item, name, " ".join(words), default_unit) for name, words in parts.items()}


def _length(item: str, name: str, text: str, default_unit: str) -> Typed:
    if not text:
        raise BadInput("defect", item, f"says {name} without a length after it", WANTED)
    try:
        typed = units.read("length", text, default_unit)
    except Refusal as refusal:
        why = refusal.message.removeprefix("length: ")
        raise Refusal(f"{name} of the defect at {item.split()[0]}: {why}", "defect", item) from None
    if name != _EDGE and not typed.exact:
        raise BadInput("defect", item, f"has a {name} of zero", WANTED)
    return typed
