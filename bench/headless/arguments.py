"""A verb's options, read as people write quantities, and refusals that name the option."""

import argparse
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import NoReturn

from bench import units
from bench.core import checking
from bench.core.errors import Missing, OutOfRange, Refusal, UnknownName
from bench.core.frozen import record
from bench.core.records import Typed
from bench.units.kinds import KINDS

SMALLEST_M = 1e-5  # a length below this is a slip of the unit, and its fourth power is lost in a float


@record
class Option:
    """One option of a verb, or one of its words without dashes."""

    name: str  # "--side"; without dashes it is a word in its place
    kind: str  # a name of units.kinds, or "size", "choice", "name", "flag"
    help: str
    needed: bool = False
    many: bool = False
    wanted: str = ""  # what would be read, "" for what its kind says
    choices: tuple[str, ...] = ()

    @property
    def reads(self) -> str:
        """What would be read, in words."""
        if self.wanted:
            return self.wanted
        if self.choices:
            return f"one of {', '.join(self.choices)}"
        return KINDS[self.kind].wanted if self.kind in KINDS else "a size like 3/4 x 1-1/2 or 19 x 38 mm"


SPECIES_WANTED = "a species key like sitka_spruce (`tenthmark species` lists them)"

COMMON = (
    Option("--json", "flag", "print one JSON object, floats unrounded"),
    Option("--working", "flag", "print the formula, the numbers and their sources as well"),
    Option("--units", "choice", "units of the tables", choices=("in", "mm")),
)


class Parser(argparse.ArgumentParser):
    """argparse whose errors are refusals, so that every fault is the same one line."""

    def error(self, message: str) -> NoReturn:
        raise Refusal(message)


class Given:
    """The options as typed, read one by one; every refusal names the option."""

    def __init__(self, options: Sequence[Option], texts: Mapping[str, list[str]]) -> None:
        self._options = {option.name: option for option in options}
        self._texts = texts

    def has(self, name: str) -> bool:
        """Whether an option was given."""
        return bool(self._texts.get(name))

    def text(self, name: str, default: str = "") -> str:
        """An option as typed, its choice checked."""
        option = self._options[name]
        if not self.has(name):
            if option.needed:
                raise Refusal(f"{name}: not given; {option.reads} is wanted", name)
            return default
        text = self._texts[name][0]
        if option.kind == "choice" and text not in option.choices:
            raise Refusal(f"{name}: {text!r} is not known; {option.reads} would be read", name, text)
        return text

    def value(self, name: str, default: str = "") -> Typed:
        """An option, or its default, as a number in SI."""
        return self._read(name, self.text(name, default))

    def values(self, name: str) -> tuple[Typed, ...]:
        """Every value of an option that may be given several times."""
        self.text(name)
        return tuple(self._read(name, text) for text in self._texts[name])

    def texts(self, name: str) -> tuple[str, ...]:
        """Every value, as typed, of an option that may be given several times."""
        return tuple(self._texts.get(name) or ())

    def size(self, name: str, sides: int) -> tuple[Typed, ...]:
        """An option that is a size of so many sides [m]; one value is a square."""
        text = self.text(name)
        with self.naming({"size": name}):
            read = units.size(text)
            if len(read) != sides:
                wanted = "width x depth" if sides == 2 else "width x depth x length"
                raise OutOfRange("size", text, f"{wanted} is wanted")
            for side in read:
                _real("size", side)
        return read

    def _read(self, name: str, text: str) -> Typed:
        option = self._options[name]
        with self.naming({option.kind: name}):
            typed = units.read(option.kind, text)
            if option.kind in ("moisture", "humidity"):
                checking.meant_percent(option.kind, typed.exact, text)
            if option.kind == "length":
                _real("length", typed)
        return typed

    @contextmanager
    def naming(self, options: Mapping[str, str]) -> Iterator[None]:
        """Refusals inside name the option that a quantity of the core was given by.

        Args:
            options: option by the core's name of the quantity.
        """
        try:
            yield
        except Refusal as refusal:
            name = options.get(refusal.quantity)
            if name is None:
                raise
            raise Refusal(self._line(name, refusal), name, refusal.value) from None

    def _line(self, name: str, refusal: Refusal) -> str:
        option = self._options[name]
        typed = ", ".join(self._texts.get(name) or ())
        if isinstance(refusal, OutOfRange):
            return f"{name}: {typed or refusal.value} is not possible here; {refusal.limits}"
        rest = refusal.message.removeprefix(f"{refusal.quantity}: ")
        if isinstance(refusal, Missing):
            return f"{name} {typed}: {rest.removeprefix('not given; ')}"
        if isinstance(refusal, UnknownName) and not refusal.near:
            return f"{name}: {rest}; {option.reads} would be read"
        if option.wanted and option.kind in KINDS:
            rest = rest.replace(KINDS[option.kind].wanted, option.wanted)
        return f"{name}: {rest}"


def _real(quantity: str, typed: Typed) -> None:
    checking.size(quantity, typed)
    if typed.exact < SMALLEST_M:
        raise OutOfRange(quantity, typed.si, "0.01 mm is the least: look at the unit", typed.text)


def parse(verb: str, summary: str, options: Sequence[Option], words: Sequence[str]) -> Given:
    """The words after a verb as its options.

    Args:
        verb: its name.
        summary: what it does, for its help.
        options: it knows; words without dashes in their order.
        words: as typed.
    Returns:
        The options, unread.
    Raises:
        Refusal: an option that is not known, has no value or is given twice, or a word that has no place.
        SystemExit: help was asked for.
    """
    parser = _parser(verb, summary, options)
    try:
        found, rest = parser.parse_known_intermixed_args(_joined(words, options))
    except argparse.ArgumentError as fault:
        raise Refusal(_fault(fault, options)) from None
    if rest:
        raise Refusal(_stray(verb, rest[0], options), rest[0])
    texts: dict[str, list[str]] = {}
    for option in options:
        value = getattr(found, _place(option.name))
        texts[option.name] = value if isinstance(value, list) else [str(value)] if value else []
        if len(texts[option.name]) > 1 and not option.many:
            said = ", ".join(texts[option.name])
            raise Refusal(
                f"{option.name}: given more than once ({said}); one value would be read", option.name
            )
    return Given(options, texts)


def _parser(verb: str, summary: str, options: Sequence[Option]) -> Parser:
    parser = Parser(prog=f"tenthmark {verb}", description=summary, allow_abbrev=False, exit_on_error=False)
    for option in options:
        said = option.help.replace("%", "%%")
        if not option.name.startswith("-"):
            parser.add_argument(_place(option.name), metavar=option.name, nargs="?", help=said)
        elif option.kind == "flag":
            parser.add_argument(option.name, dest=_place(option.name), action="store_true", help=said)
        else:
            shown = "|".join(option.choices) or option.kind.upper()
            parser.add_argument(
                option.name, dest=_place(option.name), action="append", metavar=shown, help=said
            )
    return parser


def _place(name: str) -> str:
    return "word_" + "".join(letter if letter.isalnum() else "_" for letter in name)


def _joined(words: Sequence[str], options: Sequence[Option]) -> list[str]:
    """A value that starts with a hyphen (`--mark -1`) bound to its option, so that it reaches our checks."""
    take = {option.name for option in options if option.name.startswith("-") and option.kind != "flag"}
    joined: list[str] = []
    for word in words:
        value = len(word) > 1 and word[0] == "-" and word[1] != "-" and word != "-h"
        if value and joined and joined[-1] in take:
            joined[-1] += f"={word}"
        else:
            joined.append(word)
    return joined


def _fault(fault: argparse.ArgumentError, options: Sequence[Option]) -> str:
    name = fault.argument_name or ""
    option = next((option for option in options if option.name == name), None)
    if option is None:
        return f"{name}: {fault.message}" if name else str(fault.message)
    if option.kind == "flag":
        return f"{name}: takes no value ({fault.message})"
    return f"{name}: has no value; {option.reads} would be read"


def _stray(verb: str, word: str, options: Sequence[Option]) -> str:
    names = [option.name for option in options]
    if word.startswith("-"):
        return f"{word}: not an option of {verb!r}; its options are {', '.join(names)}"
    return f"{word!r}: not expected here; {verb!r} reads {', '.join(names)}"
