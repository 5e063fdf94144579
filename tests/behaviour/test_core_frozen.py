"""A frozen record behaves as the data class of the same text does."""

from collections.abc import Callable
from dataclasses import FrozenInstanceError, asdict, dataclass, field, fields, is_dataclass
from dataclasses import replace as standard_replace
from typing import Any

import pytest

from bench.core.frozen import record, record_by_name, replace


def family(plain: Callable[[type], Any], by_name: Callable[[type], Any]) -> tuple[Any, Any, Any]:
    """A record, one built on it with other defaults, and one whose values are given by name."""

    @plain
    class Base:
        """With a hint that does not count."""

        name: str
        size: float = 1.0
        seen: dict[str, int] = field(default_factory=dict, repr=False, compare=False)

        @property
        def twice(self) -> float:
            return 2 * self.size

    @plain
    class Grown(Base):
        """Worked out at the start."""

        size: float = 3.0
        parts: tuple[str, ...] = ()
        count: int = field(default=0, init=False)

        def __post_init__(self) -> None:
            self.seen["made"] = len(self.parts)

    @by_name
    class Named(Base):
        """One that must be told."""

        what: str
        how: str = ""

    return Base, Grown, Named


STANDARD = family(dataclass(frozen=True, slots=True), dataclass(frozen=True, slots=True, kw_only=True))
OURS = family(record, record_by_name)
CALLS: list[tuple[int, tuple[Any, ...], dict[str, Any]]] = [
    (0, ("a",), {}),
    (0, ("a", 2.0), {"seen": {"b": 1}}),
    (0, (), {"size": 4.0, "name": "c"}),
    (1, ("a",), {}),
    (1, ("a", 3.0), {"parts": ("p", "q")}),
    (2, ("a",), {"what": "w"}),
    (2, ("a", 2.0), {"how": "h", "what": "w"}),
]
REFUSED: list[tuple[int, tuple[Any, ...], dict[str, Any]]] = [
    (0, (), {}),
    (0, ("a",), {"name": "b"}),
    (0, ("a",), {"other": 1}),
    (1, ("a",), {"count": 2}),
    (2, ("a",), {}),
    (2, ("a", 1.0, {}, "w"), {}),
]


@pytest.mark.parametrize(("kind", "given", "named"), CALLS)
def test_made_and_told_alike(kind: int, given: tuple[Any, ...], named: dict[str, Any]) -> None:
    ours, standard = OURS[kind](*given, **named), STANDARD[kind](*given, **named)
    assert asdict(ours) == asdict(standard)
    assert repr(ours) == repr(standard)
    assert ours.twice == standard.twice
    assert is_dataclass(ours) and not hasattr(ours, "__dict__")
    for one, other in zip(fields(ours), fields(standard), strict=True):
        assert (one.name, one.type, one.default, one.init) == (
            other.name,
            other.type,
            other.default,
            other.init,
        )


@pytest.mark.parametrize(("kind", "given", "named"), REFUSED)
def test_refused_alike(kind: int, given: tuple[Any, ...], named: dict[str, Any]) -> None:
    for family_ in (OURS, STANDARD):
        with pytest.raises(TypeError):
            family_[kind](*given, **named)


@pytest.mark.parametrize("one", CALLS)
@pytest.mark.parametrize("other", CALLS)
def test_equal_and_hashed_alike(one: Any, other: Any) -> None:
    ours, theirs = (
        [made[kind](*given, **named) for kind, given, named in (one, other)] for made in (OURS, STANDARD)
    )
    assert (ours[0] == ours[1]) is (theirs[0] == theirs[1])
    assert (hash(ours[0]) == hash(ours[1])) is (hash(theirs[0]) == hash(theirs[1]))
    assert ours[0] != theirs[0]


@pytest.mark.parametrize(("kind", "given", "named"), CALLS)
def test_replaced_alike(kind: int, given: tuple[Any, ...], named: dict[str, Any]) -> None:
    ours, standard = OURS[kind](*given, **named), STANDARD[kind](*given, **named)
    for changes in ({}, {"name": "z"}, {"size": 9.0, "name": "y"}):
        changed = replace(ours, **changes)
        assert asdict(changed) == asdict(standard_replace(standard, **changes))
        assert changed == standard_replace(ours, **changes)
    for wrong in ({"other": 1}, {"twice": 2.0}):
        with pytest.raises(TypeError):
            replace(ours, **wrong)


def test_never_changed() -> None:
    one = OURS[0]("a")
    for name in ("name", "other"):
        with pytest.raises(FrozenInstanceError):
            setattr(one, name, "b")
    with pytest.raises(FrozenInstanceError):
        del one.name
    assert one.name == "a"


def test_a_default_that_could_be_changed_is_refused() -> None:
    @record
    class Shared:
        names: list[str] = []

    with pytest.raises(TypeError, match="default_factory"):
        Shared()


def test_a_class_built_on_a_record_is_made_by_its_function() -> None:
    class Plain(OURS[0]):  # type: ignore[misc]
        """No record itself."""

    assert Plain("a", 2.0).size == 2.0
    assert OURS[0]("a") == OURS[0]("a")
