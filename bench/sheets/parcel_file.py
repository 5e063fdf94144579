"""A parcel as a text file of JSON lines: a head that says what it is, then one line a thing."""

from collections.abc import Iterable
from typing import Any

from bench import __version__
from bench.core.codec import from_plain, to_plain
from bench.core.coupon import Coupon
from bench.core.errors import FileFault, Refusal
from bench.core.file_names import file_stem
from bench.core.parcels import WHOLE, Parcel
from bench.core.records import CutMade, Offer, Part, SectionChoice, Spoilt, Stick
from bench.sheets import json_lines

FORM = "tenthmark parcel"
VERSION = 1
ENDING = ".parcel"
MOST_LINES = 200_000
LONGEST = 200  # characters of a text in the head
# Word of a line -> field of the parcel, record.
KINDS: dict[str, tuple[str, type]] = {
    "stick": ("sticks", Stick),
    "part": ("parts", Part),
    "coupon": ("coupons", Coupon),
    "offer": ("offers", Offer),
    "cut": ("cuts", CutMade),
    "lost": ("spoilt", Spoilt),
    "section": ("section", SectionChoice),
}


def write(parcel: Parcel) -> str:
    """A parcel as text.

    Args:
        parcel: of a job.
    Returns:
        JSON lines, ASCII.
    """
    rows = [(word, record) for word, field, _ in _kinds() for record in _records(parcel, field)]
    head = {
        "form": FORM,
        "version": VERSION,
        "program": __version__,
        "from": parcel.source,
        "written": parcel.written,
        "what": parcel.what,
        "lines": len(rows),
    }
    return json_lines.write((head, *_lines(rows)))


def _kinds() -> Iterable[tuple[str, str, type]]:
    return ((word, field, kind) for word, (field, kind) in KINDS.items())


def _records(parcel: Parcel, field: str) -> tuple[Any, ...]:
    found = getattr(parcel, field)
    if field == "section":
        return () if found is None else (found,)
    return tuple(found)


def _lines(rows: Iterable[tuple[str, Any]]) -> Iterable[dict[str, Any]]:
    return ({word: to_plain(record)} for word, record in rows)


def stem(parcel: Parcel) -> str:
    """A file name for a parcel without its ending, as core.file_names makes it.

    Args:
        parcel: of a job.
    """
    return file_stem(parcel.source if parcel.what == WHOLE else f"{parcel.source} {parcel.what}")


def is_parcel(text: str) -> bool:
    """Whether a text is meant as a parcel, whole or not."""
    return f'"{FORM}"' in text[:200]


def read(text: str, where: str = "parcel") -> Parcel:
    """The parcel of a text.

    Args:
        text: of a file.
        where: the file, for refusals.
    Returns:
        The parcel.
    Raises:
        FileFault: no parcel, one of a newer version, cut short, or a line that is none, by its number.
    """
    lines = text.splitlines()
    if not is_parcel(text):
        raise FileFault(where, "is no parcel; one packed by this program is wanted (Record, k)")
    if len(lines) > MOST_LINES:
        raise FileFault(where, f"has more than {MOST_LINES:,} lines; a job in parts is wanted, lot by lot")
    head = _object(lines[0], where, 1)
    if not isinstance(head.get("version"), int) or head["version"] > VERSION:
        raise FileFault(where, "was packed by a newer version of this program; bring it in with that", 1)
    found: dict[str, list[Any]] = {field: [] for field, _ in KINDS.values()}
    for number, line in enumerate(lines[1:], start=2):
        if line.strip():
            field, record = _record(_object(line, where, number), where, number)
            found[field].append(record)
    count = sum(len(records) for records in found.values())
    if count != head.get("lines"):
        said = f"holds {count} of {head.get('lines')} things: it was cut short or added to; copy it again"
        raise FileFault(where, said)
    sections = found.pop("section")
    lists: dict[str, Any] = {field: tuple(records) for field, records in found.items()}
    source, written, what = (_text(head, name, where) for name in ("from", "written", "what"))
    return Parcel(source, written, what, section=sections[0] if sections else None, **lists)


def _text(head: dict[str, Any], name: str, where: str) -> str:
    found = head.get(name)
    if not isinstance(found, str) or len(found) > LONGEST or not found.isprintable():
        raise FileFault(where, f"does not say its {name!r}; a parcel as it was packed is wanted", 1)
    return found


def _object(line: str, where: str, number: int) -> dict[str, Any]:
    try:
        return json_lines.object_of(line)
    except Refusal as problem:
        why = f"is damaged here, {problem}; a parcel as it was packed is wanted"
        raise FileFault(where, why, number) from None


def _record(row: dict[str, Any], where: str, number: int) -> tuple[str, Any]:
    word = next(iter(row), "")
    if len(row) != 1 or word not in KINDS:
        known = ", ".join(KINDS)
        raise FileFault(where, f"{word[:40]!r} is nothing that is moved; one of {known} is wanted", number)
    field, kind = KINDS[word]
    try:
        return field, from_plain(kind, row[word])
    except (Refusal, ArithmeticError) as problem:
        raise FileFault(where, f"this {word} cannot be read: {problem}", number) from problem
