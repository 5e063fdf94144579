"""Docstrings are read: arguments with their units, refusals by name, sources that resolve."""

import ast
import importlib
import importlib.util
import inspect
import re
import textwrap
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from bench.core import errors
from bench.core.quantities import QUANTITIES
from bench.library import load

ROOT = Path(__file__).parents[2]
BOXES = ("core", "units", "library", "storage", "sheets")
FILES = [path for box in BOXES for path in sorted((ROOT / "bench" / box).rglob("*.py"))]

SECTIONS = ("Args", "Returns", "Raises", "Valid for", "Source")
REFUSALS = {name for name, kind in vars(errors).items() if isinstance(kind, type)}
# Derived units and the two ways of saying that a formula does not care.
UNITS = {quantity.unit for quantity in QUANTITIES.values()} | {
    *("m2", "m4", "N m2", "units", "any unit", "same unit", "SI", "SI unit of the quantity"),
}
KEYS = set(load().sources)
# What a bibliography key looks like, wherever it stands.
KEY = re.compile(r"\b(?:(?:wh|anc|naca|ac|iapws|tanaka)\d+\w*|fpl_\w+)\b")


def sections(text: str) -> dict[str, str]:
    """A docstring by its headings; the part before the first one under ""."""
    found, name = {"": ""}, ""
    for line in text.splitlines():
        heading = line.strip().rstrip(":")
        if line.strip().endswith(":") and heading in SECTIONS and not line.startswith(" "):
            name = heading
        found[name] = found.get(name, "") + line + "\n"
    return found


def arguments(text: str) -> dict[str, str]:
    """The lines of an Args section: name to its text, joined where it runs on."""
    body = textwrap.dedent("\n".join(text.splitlines()[1:]))
    found: dict[str, str] = {}
    for line in body.splitlines():
        if (match := re.match(r"(\w+): (.*)", line)) is not None:
            found[match[1]] = match[2]
        elif line.strip() and found:
            last = next(reversed(found))
            found[last] += " " + line.strip()
    return found


def is_number(annotation: Any) -> bool:
    """Whether an annotation is a bare number, a choice or a tuple of them; records carry their own units."""
    words = set(re.findall(r"\w+", inspect.formatannotation(annotation))) - {
        "None",
        "tuple",
        "list",
        "Sequence",
        "Iterable",
    }
    return bool(words & {"float", "Fraction"}) and words <= {"float", "Fraction", "int"}


def raised(function: Any) -> set[str]:
    """Refusals that leave a function by its own hand; what it raises and catches again does not."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
    caught = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.Try) and any(catches(handler) for handler in node.handlers)
        for part in node.body
        for inner in ast.walk(part)
    }
    calls = [
        node.exc.func
        for node in ast.walk(tree)
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and id(node) not in caught
    ]
    return {call.id for call in calls if isinstance(call, ast.Name)} & REFUSALS


def catches(handler: ast.ExceptHandler) -> bool:
    """Whether a handler catches every refusal."""
    return isinstance(handler.type, ast.Name) and handler.type.id == "Refusal"


def of_function(name: str, function: Any, formal: bool) -> Iterator[str]:
    """What is wrong with one function's docstring; `formal` where a list of arguments must have its units."""
    text = inspect.getdoc(function)
    if not text:
        yield f"{name}: no docstring"
        return
    parts = sections(text)
    if "Args" in parts:
        listed = arguments(parts["Args"])
        wanted = [p for p in inspect.signature(function).parameters.values() if p.name not in ("self", "cls")]
        names = [p.name for p in wanted]
        if list(listed) != names:
            yield f"{name}: describes {', '.join(listed)}; the signature has {', '.join(names)}"
        for parameter in wanted if formal else ():
            said = listed.get(parameter.name, "")
            if is_number(parameter.annotation) and not units_of(said):
                yield f"{name}: {parameter.name} has no unit in [brackets]"
    for kind in raised(function):
        said = parts.get("Raises", "") if "Args" in parts else text
        if kind not in said and not ("Args" not in parts and "Refusal" in said):
            yield f"{name}: raises {kind} and does not say so"
    if formal:
        yield from (f"{name}: [{unit}] is no unit" for unit in brackets(parts) if unit not in UNITS)


def units_of(text: str) -> list[str]:
    """Units at the end of an argument's line."""
    end = re.search(r"(?<!\w)\[([^\]]+)\][^\[\]]*$", text)
    return [end[1]] if end else []


def brackets(parts: dict[str, str]) -> list[str]:
    """Everything in brackets after an argument or a result; several units are parted by "or"."""
    text = parts.get("Args", "") + parts.get("Returns", "")
    return [unit for found in re.findall(r"(?<!\w)\[([^\]]+)\]", text) for unit in found.split(" or ")]


def is_formula(function: Any) -> bool:
    """Whether a function gives a number from a number: such a one lists its arguments."""
    notes = inspect.get_annotations(function)
    taken = [note for name, note in notes.items() if name != "return"]
    return is_number(notes.get("return", "")) and any(map(is_number, taken))


def of_module(module: ModuleType, formal: bool) -> list[str]:
    """What is wrong with a module's docstrings: its own, and those of its public classes and functions."""
    found = [] if (module.__doc__ or "").strip() else [f"{module.__name__}: no docstring"]
    for name, item in vars(module).items():
        if name.startswith("_") or getattr(item, "__module__", "") != module.__name__:
            continue
        if inspect.isclass(item):
            found += [] if item.__doc__ else [f"{name}: no docstring"]
            for method, part in vars(item).items():
                plain = part.fget if isinstance(part, property) else getattr(part, "__func__", part)
                if method.startswith("_") or not inspect.isfunction(plain):
                    continue
                if inspect.getdoc(getattr(item, method)) and not plain.__doc__:
                    continue  # the base says it
                found += of_function(f"{name}.{method}", plain, False)
        elif inspect.isfunction(inspect.unwrap(item)):
            plain = inspect.unwrap(item)
            found += of_function(name, plain, formal)
            if formal and is_formula(plain) and "Args" not in sections(inspect.getdoc(plain) or ""):
                found.append(f"{name}: a formula without Args")
    return found


def named(path: Path) -> str:
    """The dotted name of a file."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@pytest.mark.parametrize("path", FILES, ids=lambda path: named(path))
def test_docstrings(path: Path) -> None:
    module = importlib.import_module(named(path))
    text = path.read_text(encoding="utf-8")
    if not text.strip():
        return  # a package without anything in it
    assert of_module(module, formal="bench.core" in named(path)) == []


def unresolved(text: str) -> set[str]:
    """Bibliography keys in a text that no bibliography has."""
    return set(KEY.findall(text)) - KEYS


def test_every_key_cited_in_the_program_resolves() -> None:
    texts = {path: path.read_text(encoding="utf-8") for path in (ROOT / "bench").rglob("*.py")}
    assert {str(path.name): keys for path, text in texts.items() if (keys := unresolved(text))} == {}
    cited = set(KEY.findall("\n".join(texts.values())))
    assert {"wh282", "wh190", "anc19", "anc18", "iapws1994"} <= cited


# --- the audit can fail --------------------------------------------------------------------------------

SOUND = '''
"""A module."""

from bench.core.errors import OutOfRange, Refusal


def mass(density: float, size_m: tuple[float, float], name: str = "") -> float:
    """Mass of a stick.

        m = rho V

    Args:
        density: with its water [kg/m3].
        size_m: area of the end and
            length [m].
        name: of the stick.
    Returns:
        Mass [kg].
    Raises:
        OutOfRange: a density of zero or less.
    Source:
        wh282 eq. 4-14, p. 4-12.
    """
    if not density > 0:
        raise OutOfRange("density", density, "above zero is wanted")
    return density * size_m[0] * size_m[1]


class Balance:
    """Something that weighs."""

    def try_it(self) -> None:
        """Raises nothing."""
        try:
            raise OutOfRange("mass", 0, "more is wanted")
        except Refusal:
            pass

    def weigh(self, mass: float) -> float:
        """The mass [kg]; raises OutOfRange where it is below zero."""
        if mass < 0:
            raise OutOfRange("mass", mass, "zero or more is wanted")
        return mass
'''

FAULTS = [
    # text replaced, by what, what the audit says
    ('"""A module."""', "", "no docstring"),
    ("        density: with its water [kg/m3].\n", "", "the signature has"),
    ("        density: with", "        rho: with", "the signature has"),
    ("density: float, size_m", "size_m: float, density", "the signature has"),
    ("with its water [kg/m3]", "with its water", "density has no unit"),
    ("            length [m].", "            length.", "size_m has no unit"),
    ("[kg/m3]", "[stone]", "[stone] is no unit"),
    ("Mass [kg]", "Mass [slug]", "[slug] is no unit"),
    ("        OutOfRange: a density of zero or less.\n", "        nothing.\n", "raises OutOfRange"),
    ("    Raises:\n        OutOfRange: a density of zero or less.\n", "", "raises OutOfRange"),
    ('    """Something that weighs."""\n', "", "Balance: no docstring"),
    ('        """The mass [kg]; raises OutOfRange where it is below zero."""\n', "", "weigh: no docstring"),
    ("; raises OutOfRange where it is below zero", "", "raises OutOfRange"),
    ("        except Refusal:\n", "        except KeyError:\n", "try_it: raises OutOfRange"),
]


def planted(text: str, folder: Path) -> ModuleType:
    """A module made of a text."""
    path = folder / "planted.py"
    path.write_text(text, encoding="utf-8")
    spec = importlib.util.spec_from_file_location("planted", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_a_sound_module_passes(tmp_path: Path) -> None:
    assert of_module(planted(SOUND, tmp_path), formal=True) == []


@pytest.mark.parametrize(("old", "new", "said"), FAULTS)
def test_a_planted_fault_is_found(old: str, new: str, said: str, tmp_path: Path) -> None:
    assert old in SOUND
    found = of_module(planted(SOUND.replace(old, new), tmp_path), formal=True)
    assert any(said in fault for fault in found), found


def test_a_formula_without_arguments_listed_is_found(tmp_path: Path) -> None:
    short = '"""A module."""\n\n\ndef half(size_m: float) -> float:\n    """Half."""\n    return size_m / 2\n'
    assert of_module(planted(short, tmp_path), formal=True) == ["half: a formula without Args"]


def test_an_unknown_key_is_found() -> None:
    assert unresolved("Source: wh282 eq. 1, anc19 sec. 2") == set()
    assert unresolved("see wh999 p. 3, fpl_glue and anc7") == {"wh999", "fpl_glue", "anc7"}
