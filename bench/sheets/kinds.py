"""Every kind of sheet by its name, and every format it is written in."""

from collections.abc import Callable, Mapping, Sequence

from bench.core.errors import BadInput, Refusal, UnknownName
from bench.core.file_names import file_stem
from bench.core.frozen import record
from bench.core.naming import nearest
from bench.core.records import Species
from bench.core.river import River
from bench.sheets import (
    acceptance_sheet,
    binder,
    break_sheet,
    cut_sheet,
    heading,
    labels,
    record_lines,
    record_sheet,
    section_sheet,
    stick_sheet,
    writing_csv,
    writing_html,
    writing_markdown,
    writing_text,
)
from bench.sheets.paper import Sheet, Writer
from bench.sheets.record_sheet import Record

BINDER, STICK, ACCEPTANCE, SECTION = "binder", "stick", "acceptance", "section"
CUTS, BREAKS, RECORD, LABELS = "cuts", "breaks", "record", "labels"
LINES = "jsonl"
WRITERS: dict[str, Writer] = {
    "html": writing_html.write,
    "md": writing_markdown.write,
    "text": writing_text.write,
    "csv": writing_csv.write,
}
FORMATS = (*WRITERS, LINES)
ENDINGS = {"html": ".html", "md": ".md", "text": ".txt", "csv": ".csv", LINES: ".jsonl"}
_BY_ENDING = {**{ending: name for name, ending in ENDINGS.items()}, ".htm": "html", ".markdown": "md"}
FORMS = "a path: .html to print, .md, .txt, .csv for the tables"


@record
class Shelf:
    """All that sheets are made from."""

    river: River
    record: Record
    woods: Mapping[str, Species]
    sources: heading.Sources
    printed: str = ""  # the day, handed in: nothing here has a clock


def _stick(shelf: Shelf, tag: str, retraced: bool) -> Sheet:
    judged = shelf.river.judged(tag)
    if judged is None:
        tags = [one.stick.tag for one in shelf.river.rack]
        raise UnknownName("stick", tag, tuple(nearest(tag, tags)) or tuple(tags[:4]))
    species = shelf.woods.get(judged.stick.species)
    return stick_sheet.sheet(judged, species, shelf.river.job, shelf.printed, shelf.sources)


_MADE: dict[str, Callable[[Shelf, str, bool], Sheet]] = {
    BINDER: lambda of, tag, retraced: binder.sheet(
        of.river, of.record, of.woods, of.printed, of.sources, retraced
    ),
    STICK: _stick,
    ACCEPTANCE: lambda of, tag, retraced: acceptance_sheet.sheet(of.river, of.woods, of.printed, of.sources),
    SECTION: lambda of, tag, retraced: section_sheet.sheet(
        of.river.section, of.river, of.woods, of.printed, of.sources
    ),
    CUTS: lambda of, tag, retraced: cut_sheet.sheet(of.river, of.woods, of.printed),
    BREAKS: lambda of, tag, retraced: break_sheet.sheet(
        of.river.job, of.woods, printed=of.printed, sources=of.sources
    ),
    RECORD: lambda of, tag, retraced: record_sheet.sheet(of.river.job, of.record, of.printed),
    LABELS: lambda of, tag, retraced: labels.sheet(of.river, of.woods, of.printed),
}
KINDS = tuple(_MADE)


def text_of(kind: str, form: str, shelf: Shelf, tag: str = "", retraced: bool = False) -> str:
    """The text of a file.

    Args:
        kind: one of KINDS.
        form: one of FORMATS.
        shelf: what it is made from.
        tag: of the stick, for a stick record.
        retraced: in a binder, with the formula and numbers of every step for every stick.
    Raises:
        UnknownName: a kind, format or stick that there is not.
        Refusal: JSON Lines of anything but the record.
    """
    if kind not in _MADE:
        raise UnknownName("sheet", kind, tuple(nearest(kind, KINDS)) or KINDS)
    if form == LINES:
        if kind != RECORD:
            raise Refusal(f"{LINES}: only the record is written so; {', '.join(WRITERS)} would be written")
        return record_lines.write(shelf.record, shelf.river.job.name)
    return written(_MADE[kind](shelf, tag, retraced), form)


def kind_of(typed: str, names: Sequence[str] = KINDS) -> str:
    """A kind of sheet by its name or the beginning of it.

    Args:
        typed: as typed.
        names: those that there are.
    Returns:
        One of them.
    Raises:
        UnknownName: none begins so, or more than one.
    """
    wanted = typed.strip().lower()
    fitting = [name for name in names if name.startswith(wanted)] if wanted else []
    if wanted in names or len(fitting) == 1:
        return wanted if wanted in names else fitting[0]
    raise UnknownName("sheet", typed.strip(), tuple(nearest(wanted, names)) or tuple(names))


def written(sheet: Sheet, form: str) -> str:
    """A sheet in a format.

    Args:
        sheet: whole.
        form: a key of WRITERS.
    Raises:
        UnknownName: a format that there is not.
    """
    if form not in WRITERS:
        raise UnknownName("format", form, tuple(WRITERS))
    return WRITERS[form](sheet)


def form_of(path: str) -> str:
    """The format that the ending of a path asks for.

    Args:
        path: as typed.
    Returns:
        One of FORMATS.
    Raises:
        BadInput: an ending that tells none.
    """
    name = path.strip().lower()
    found = next((form for ending, form in _BY_ENDING.items() if name.endswith(ending)), None)
    if found is None:
        raise BadInput("ending", path.strip(), "tells no format", f"a name in {', '.join(ENDINGS.values())}")
    return found


def file_name(name: str, kind: str, form: str = "html") -> str:
    """A name for the file of a sheet: of a job or a stick, and of what it is.

    Args:
        name: of the job or stick, whatever it is.
        kind: of sheet.
        form: one of FORMATS.
    Returns:
        A plain name without a folder.
    """
    return f"{file_stem(name, kind)}-{kind}{ENDINGS[form]}"
