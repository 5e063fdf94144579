"""The library: every species file and the bibliography, the user's own over ours.

A file with a fault is left out whole and named; the others still load. So a slip in the user's copy of a
species leaves the shipped one standing.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from bench.core.errors import FileFault, UnknownName
from bench.core.frozen import record, replace
from bench.core.naming import nearest
from bench.core.records import Figure, Source, Species, Statement
from bench.library import checking
from bench.library.checking import Wrong
from bench.library.parsing import NotToml, line_of, parse
from bench.library.places import shipped_folder

BIBLIOGRAPHY = "sources.toml"
LARGEST = 1_000_000  # bytes of a species file; ours have a hundredth of it
KINDS = ("softwood", "hardwood")
_HEAD_KEYS = frozenset(("key", "name", "kind", "figure", "statement"))
_SUPERSEDED = "a figure of the user's own file is used"

Row = TypeVar("Row")


@record
class Library:
    """What was read: species by key, sources by key, and the files that could not be taken."""

    species: dict[str, Species]
    sources: dict[str, Source]
    faults: tuple[FileFault, ...] = ()

    def get(self, key: str) -> Species:
        """The species with this key.

        Raises:
            UnknownName: with the nearest keys.
        """
        try:
            return self.species[key]
        except KeyError:
            raise UnknownName("species", key, nearest(key, self.species)) from None


@dataclass(slots=True)
class _File:
    """A file being read, with the faults found so far."""

    path: Path
    text: str
    tables: dict[str, Any]
    faults: list[FileFault]

    def fault(self, wrong: Wrong, kind: str = "", number: int = 0) -> None:
        """Name what is wrong, at its line."""
        line = line_of(self.text, kind, number, wrong.key)
        self.faults.append(FileFault(str(self.path), wrong.reason, line, wrong.key))

    def rows(self, kind: str, build: Callable[[Mapping[str, Any]], Row]) -> list[Row]:
        """The tables of one kind as records, without the faulty ones."""
        tables = self.tables.get(kind, [])
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            self.fault(Wrong(kind, f"{kind} should be tables, each under [[{kind}]]"))
            return []
        built = []
        for number, table in enumerate(tables):
            try:
                built.append(build(table))
            except Wrong as wrong:
                self.fault(wrong, kind, number)
        return built


def load(user_folder: Path | None = None, only: Collection[str] | None = None) -> Library:
    """The shipped species, and the user's own over them.

    Args:
        user_folder: of the user's species files; None or a folder that does not exist adds nothing.
        only: keys of the species to read; None reads all. The bibliography is always read.
    Returns:
        The library; faulty files are listed in it, not raised.
    """
    faults: list[FileFault] = []
    sources: dict[str, Source] = {}
    species: dict[str, Species] = {}
    _read_folder(shipped_folder(), species, sources, faults, only, ours=True)
    if user_folder is not None:
        _read_folder(user_folder, species, sources, faults, only, ours=False)
    return Library(dict(sorted(species.items())), sources, tuple(faults))


def _read_folder(
    folder: Path,
    species: dict[str, Species],
    sources: dict[str, Source],
    faults: list[FileFault],
    only: Collection[str] | None,
    ours: bool,
) -> None:
    try:
        # A leading dot marks what editors and file systems leave beside a file.
        files = sorted(p for p in folder.iterdir() if p.suffix == ".toml" and p.name[0] != ".")
    except OSError as error:
        if ours or not isinstance(error, FileNotFoundError):
            faults.append(FileFault(str(folder), f"cannot be opened: {error.strerror or error}"))
        return
    if (bibliography := folder / BIBLIOGRAPHY) in files:
        _read_sources(bibliography, sources, faults)
    for path in files:
        if only is not None and path.stem not in only:
            continue
        if path.name != BIBLIOGRAPHY and (file := _open(path, faults)):
            read = _species(file, species.get(path.stem), sources, ours)
            faults.extend(file.faults)
            if read is not None:
                species[read.key] = read


def _open(path: Path, faults: list[FileFault]) -> _File | None:
    try:
        # Some editors put a byte order mark at the head of a file.
        if not path.is_file():  # a pipe would be waited for
            raise NotToml("cannot be opened: it is no plain file", None)
        with path.open("rb") as opened:
            data = opened.read(LARGEST + 1)
        if len(data) > LARGEST:
            raise NotToml(f"is larger than {LARGEST // 1_000_000} MB; no species is", None)
        text = data.decode("utf-8-sig")
        return _File(path, text, parse(text), [])
    except NotToml as error:
        faults.append(FileFault(str(path), error.reason, error.line))
    except UnicodeDecodeError:
        faults.append(FileFault(str(path), "not UTF-8 text; save it as UTF-8"))
    except OSError as error:
        faults.append(FileFault(str(path), f"cannot be opened: {error.strerror or error}"))
    return None


def _read_sources(path: Path, sources: dict[str, Source], faults: list[FileFault]) -> None:
    """Add a bibliography; a faulty entry is named and left out, the others count."""
    if not (file := _open(path, faults)):
        return
    for key in file.tables.keys() - {"source"}:
        file.fault(Wrong(key, "this key is not known; a bibliography holds [[source]] tables"))
    entries = file.rows("source", checking.source)
    for entry in entries:
        if entry.key in sources:
            file.fault(Wrong("key", f"source {entry.key!r} is there already; choose another key"))
        else:
            sources[entry.key] = entry
    faults.extend(file.faults)


def _species(
    file: _File, shipped: Species | None, sources: Mapping[str, Source], ours: bool
) -> Species | None:
    """The species of a file, laid over the shipped one; None where anything in it is at fault."""
    try:
        key, name, kind = _head(file, shipped)
    except Wrong as wrong:
        file.fault(wrong)
        return None
    figures = file.rows("figure", lambda table: checking.figure(table, sources))
    statements = file.rows("statement", lambda table: checking.statement(table, sources))
    if not file.faults:
        _refuse_doubles(file, figures)
    if file.faults:
        return None
    return _laid_over(
        shipped,
        Species(key, name, kind, tuple(figures), tuple(statements), "ours" if ours else str(file.path)),
    )


def _head(file: _File, shipped: Species | None) -> tuple[str, str, str]:
    """Key, name and kind; name and kind may be left out of a file that adds to a shipped species."""
    tables = file.tables
    checking.check_keys(tables, _HEAD_KEYS)
    key = checking.text_of(tables, "key")
    if key != file.path.stem:
        raise Wrong("key", f"key {key!r} should be the file's name, {file.path.stem!r}")
    name = checking.text_of(tables, "name", needed=shipped is None) or (shipped.name if shipped else "")
    kind = checking.text_of(tables, "kind", needed=shipped is None) or (shipped.kind if shipped else "")
    if kind not in KINDS:
        raise Wrong("kind", f"kind {kind!r} is not known; one of: {', '.join(KINDS)}")
    return key, name, kind


def _same(figure: Figure) -> tuple[str, str, str, str]:
    return figure.quantity, figure.at, figure.volume, figure.variant


def _refuse_doubles(file: _File, figures: list[Figure]) -> None:
    seen: set[tuple[str, str, str, str]] = set()
    for number, figure in enumerate(figures):
        if figure.used and _same(figure) in seen:
            why = f"{figure.quantity} is given twice for the same wood; set used = false on one of them"
            file.fault(Wrong("quantity", why), "figure", number)
        if figure.used:
            seen.add(_same(figure))


def _laid_over(shipped: Species | None, own: Species) -> Species:
    if shipped is None:
        return own
    taken = {_same(figure) for figure in own.figures if figure.used}
    kept = tuple(
        replace(figure, used=False, note="; ".join(filter(None, (figure.note, _SUPERSEDED))))
        if figure.used and _same(figure) in taken
        else figure
        for figure in shipped.figures
    )
    statements: tuple[Statement, ...] = shipped.statements + own.statements
    return replace(own, figures=own.figures + kept, statements=statements)
