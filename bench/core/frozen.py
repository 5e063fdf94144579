"""Frozen records, made quickly: what `dataclass(frozen=True, slots=True)` makes, in a thirtieth of the time.

The program has some hundreds of records, and a data class gets six functions of its own, compiled at every
start. Records share theirs. Only the two that must be fast, `__init__` and `__eq__`, are compiled for each,
and only once it is first made or compared. To `dataclasses` (`fields`, `asdict`) a record is a data class.
"""

from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, field, make_dataclass
from operator import attrgetter
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar, dataclass_transform

__all__ = ["record", "record_by_name", "replace"]

Kind = TypeVar("Kind", bound=type)
_PARAMS = make_dataclass("_", (), frozen=True).__dataclass_params__  # type: ignore[attr-defined]
_UNSLOTTED = ("__dict__", "__weakref__")


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def record(kind: Kind) -> Kind:
    """A class made a frozen record of the values it names.

    Args:
        kind: with its values as annotations, and their defaults.
    Returns:
        The class, with a slot for each.
    """
    return _made(kind, False)


@dataclass_transform(frozen_default=True, kw_only_default=True, field_specifiers=(field,))
def record_by_name(kind: Kind) -> Kind:
    """A class made a frozen record whose own values are given by their names.

    Args:
        kind: with its values as annotations, and their defaults.
    Returns:
        The class, with a slot for each.
    """
    return _made(kind, True)


if TYPE_CHECKING:
    from dataclasses import replace
else:

    def replace(one: Any, /, **changes: Any) -> Any:
        """A record with some of its values changed.

        Args:
            one: the record.
            changes: by name.
        Returns:
            Another one.
        """
        shape = type(one)._shape
        values = [*shape.values(one)]
        for name, value in changes.items():
            if name not in shape.places:
                raise TypeError(f"a {type(one).__name__} has no {name!r}")
            values[shape.places[name]] = value
        first = shape.unnamed
        return type(one)(*values[:first], **dict(zip(shape.given[first:], values[first:], strict=True)))


def _made(kind: Kind, by_name: bool) -> Kind:
    types: dict[str, Any] = kind.__annotations__
    kept = {n: value for n, value in kind.__dict__.items() if n not in types and n not in _UNSLOTTED}
    known = {name for base in kind.__mro__[1:-1] for name in base.__dict__.get("__slots__", ())}
    told = {name: kind.__dict__.get(name, MISSING) for name in types}
    shared: dict[str, Any] = {
        "__slots__": tuple(name for name in types if name not in known),
        "__init__": _first_init,
        "__eq__": _first_eq,
        "__hash__": _hash,
        "__repr__": _repr,
        "__setattr__": _refuse,
        "__delattr__": _refuse,
        "__dataclass_params__": _PARAMS,
        "__dataclass_fields__": _Later(lambda made: _data_class(made)),
        "_shape": _Later(lambda made: _Shape(made, types, told, by_name)),
    }
    # Slots can only be given to a class as it is made: hence another one, of the same name and base.
    made: Any = type(kind)(kind.__name__, kind.__bases__, {**kept, **shared})
    made.__qualname__ = kind.__qualname__
    return made  # type: ignore[no-any-return]


class _Later:
    """An attribute of a class that is worked out when it is first asked for."""

    def __init__(self, work: Callable[[Any], object]) -> None:
        self.work = work

    def __set_name__(self, owner: type, name: str) -> None:
        self.owner, self.name = owner, name

    def __get__(self, one: object, kind: type) -> object:
        found = self.work(self.owner)
        setattr(self.owner, self.name, found)
        return found


class _Shape:
    """What the shared functions know of a record: its values in order, those of its base first."""

    def __init__(self, kind: Any, types: dict[str, Any], told: dict[str, Any], by_name: bool) -> None:
        base: Any = getattr(kind.__base__, "_shape", None)
        own: dict[str, Field[Any]] = {name: _field(value) for name, value in told.items()}
        self.kind = kind
        self.types: dict[str, Any] = {**base.types, **types} if base else types
        self.fields: dict[str, Field[Any]] = {**base.fields, **own} if base else own
        named: set[str] = {*base.given[base.unnamed :]} if base else set()
        named = (named - own.keys()) | (own.keys() if by_name else set())
        given = [name for name, one in self.fields.items() if one.init]
        self.given = sorted(given, key=named.__contains__)
        self.unnamed = len(given) - len(named & {*given})  # how many are given by their place
        self.places = {name: place for place, name in enumerate(self.given)}
        self.values = _getter(self.given)
        self.compared = [name for name, one in self.fields.items() if one.compare]
        self.key = _getter(self.compared)


def _field(told: Any) -> Any:
    if isinstance(told, Field):
        return told
    if told.__class__.__hash__ is None:
        raise TypeError(f"the default {told!r} could be changed: give a default_factory")
    return field(default=told)


def _getter(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
    """What takes these values out of a record."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda one: tuple(getattr(one, name) for name in names)


def _data_class(kind: Any) -> object:
    """What the functions of `dataclasses` look for in a class."""
    shape: _Shape = kind._shape
    told = [(name, shape.types[name], one) for name, one in shape.fields.items()]
    same = make_dataclass(kind.__name__, told, init=False, repr=False, eq=False, namespace={"__doc__": "-"})
    return same.__dict__["__dataclass_fields__"]


# --- what records share ------------------------------------------------------------------------------


def _first_init(self: Any, *given: Any, **named: Any) -> None:
    kind = type(self)._shape.kind
    kind.__init__ = _init_of(type(self)._shape)
    kind.__init__(self, *given, **named)


def _first_eq(self: Any, other: object) -> Any:
    shape: _Shape = type(self)._shape
    shape.kind.__eq__ = _eq_of(shape)
    return shape.kind.__eq__(self, other)


def _hash(self: Any) -> int:
    return hash(type(self)._shape.key(self))


def _repr(self: Any) -> str:
    fields = type(self)._shape.fields
    values = ", ".join(f"{name}={getattr(self, name)!r}" for name, one in fields.items() if one.repr)
    return f"{type(self).__qualname__}({values})"


def _refuse(self: Any, name: str, *value: object) -> NoReturn:
    raise FrozenInstanceError(f"a {type(self).__name__} is never changed: {name!r} is set or deleted")


# --- what is compiled for each -----------------------------------------------------------------------


def _init_of(shape: _Shape) -> Callable[..., None]:
    """Puts every value into its slot."""
    known: dict[str, Any] = {"made": object()}
    body = []
    for name, one in shape.fields.items():
        known[f"set_{name}"] = getattr(shape.kind, name).__set__
        value = name if one.init else f"default_{name}"
        if one.default is not MISSING:
            known[f"default_{name}"] = one.default
        elif one.default_factory is not MISSING:
            known[f"default_{name}"], known[f"new_{name}"] = known["made"], one.default_factory
            value = f"new_{name}() if {name} is made else {name}" if one.init else f"new_{name}()"
        body.append(f"set_{name}(self, {value})")
    if hasattr(shape.kind, "__post_init__"):
        body.append("self.__post_init__()")
    words = [f"{name}=default_{name}" if f"default_{name}" in known else name for name in shape.given]
    if shape.unnamed < len(words):
        words.insert(shape.unnamed, "*")
    return _compiled(shape, "__init__", words, body or ["pass"], known)


def _eq_of(shape: _Shape) -> Callable[..., Any]:
    """Compares as the tuples of the values would."""
    mine, its = ("".join(f"{one}.{name}, " for name in shape.compared) for one in ("self", "other"))
    body = [f"if other.__class__ is self.__class__: return ({mine}) == ({its})", "return NotImplemented"]
    return _compiled(shape, "__eq__", ["other"], body, {})


def _compiled(
    shape: _Shape, name: str, words: list[str], body: list[str], known: dict[str, Any]
) -> Callable[..., Any]:
    text = f"def {name}({', '.join(['self', *words])}):\n" + "".join(f" {line}\n" for line in body)
    space: dict[str, Any] = {}
    exec(text, {**known, "__name__": shape.kind.__module__}, space)
    written: Callable[..., Any] = space[name]
    written.__qualname__ = f"{shape.kind.__qualname__}.{name}"
    return written
