"""Which entries of the record are wanted: by stick, part, coupon, kind, day, or a text."""

import re
from dataclasses import fields

from bench.core.concerning import KINDS, Concern
from bench.core.errors import BadInput, UnknownName
from bench.core.frozen import record
from bench.core.naming import nearest

NAMES = ("stick", "part", "coupon", "kind", "day", "text")
_DAY = re.compile(r"[0-9]{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12][0-9]|3[01]))?)?")
FORM = "stick A-07, part rib 3, coupon C-2, kind reading, day 2026-03-14 or day 2026-03-01..2026-03-31"


@record
class Wanted:
    """What an entry must be about to be shown; an empty field asks for nothing."""

    stick: str = ""
    part: str = ""
    coupon: str = ""
    kind: str = ""  # one of concerning.KINDS
    day: str = ""  # first day, ISO; a month or a year without its end
    until: str = ""  # last day, the same; empty: that day, month or year only
    text: str = ""  # that its sentence holds

    def holds(self, about: Concern, at: str, said: str) -> bool:
        """Whether an entry is wanted.

        Args:
            about: what it is about.
            at: the time of its acceptance, ISO.
            said: its sentence.
        """
        return (
            _among(self.stick, about.sticks)
            and _among(self.part, about.parts)
            and _among(self.coupon, about.coupons)
            and _among(self.kind, about.kinds)
            and self.day <= at
            and at[: len(self.until or self.day)] <= (self.until or self.day)
            and self.text.casefold() in said.casefold()
        )

    def write(self) -> str:
        """As it is typed; empty where everything is wanted."""
        words = [
            f"{field.name} {getattr(self, field.name)}"
            for field in fields(self)
            if field.name not in ("until", "text") and getattr(self, field.name)
        ]
        if self.until:
            words = [f"{word}..{self.until}" if word.startswith("day ") else word for word in words]
        return ", ".join([*words, *([self.text] if self.text else [])])


def _among(name: str, names: tuple[str, ...]) -> bool:
    return not name or any(name.casefold() == other.casefold() for other in names)


def read(text: str) -> Wanted:
    """What is wanted, as typed: `stick A-07, kind reading, day 2026-03-14`, or any text.

    Args:
        text: pieces with commas between; a piece without a known first word is a text to be held.
    Returns:
        What is wanted; everything where the text is empty.
    Raises:
        BadInput: a piece twice, without a name, or a day that is none.
        UnknownName: a kind there is none of.
    """
    found: dict[str, str] = {}
    for piece in (piece.strip() for piece in text.split(",")):
        if not piece:
            continue
        word, _, rest = piece.partition(" ")
        name, value = (word.lower(), rest.strip()) if word.lower() in NAMES else ("text", piece)
        if not value:
            raise BadInput("only", piece, f"says no {name}", FORM)
        if name == "text" and name in found:
            value = f"{found.pop(name)}, {value}"  # a comma in a text is a part of it
        if name in found:
            raise BadInput("only", piece, f"asks for a second {name}", f"one {name}")
        found[name] = value
    return _checked(found)


def _checked(found: dict[str, str]) -> Wanted:
    if "kind" in found:
        kind = found["kind"].lower()
        if kind not in KINDS:
            raise UnknownName("kind", kind, nearest(kind, KINDS) or KINDS)
        found["kind"] = kind
    if "day" in found:
        first, _, last = (day.strip() for day in found["day"].partition(".."))
        found["day"] = _day(first)
        if last:
            found["until"] = _day(last)
            if found["until"] < found["day"]:
                raise BadInput("day", f"{first}..{last}", "ends before it begins", "the earlier day first")
    return Wanted(**found)


def _day(text: str) -> str:
    """A day, a month or a year, ISO: 2026-03-14, 2026-03, 2026."""
    found = _DAY.fullmatch(text)
    if found is None:
        raise BadInput("day", text, "is no day", "2026-03-14, or 2026-03 for the month")
    return text
