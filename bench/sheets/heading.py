"""What every sheet begins and ends with: whose job, what wrote it and when, its sources, the caution."""

import re
from collections.abc import Mapping
from types import MappingProxyType

from bench import __version__
from bench.core.frozen import replace
from bench.core.records import Job, Source
from bench.sheets import paper, wording
from bench.sheets.paper import BELOW, Blanks, Column, Section, Sheet, Table, Text, clean

Sources = Mapping[str, Source]

INVENTED = "INVENTED: nothing here was measured"
NO_SOURCES: Sources = MappingProxyType({})
SIGNATURE = Blanks(("looked through by", "for (designer, authority)", "licence or office", "date, signature"))


def job_name(job: Job) -> str:
    """The name of a job; says so where it has none."""
    return clean(job.name).strip() or "job without a name"


def begun(kind: str, job: Job, printed: str = "") -> Sheet:
    """A sheet with its head and nothing on it.

    Args:
        kind: what it is: `stick record`.
        job: it is of.
        printed: the day it is printed; empty for none.
    Returns:
        The sheet.
    """
    made = f"tenthmark {__version__}{f', {clean(printed)}' if printed else ''}"
    return Sheet(kind, job_name(job), made, invented=INVENTED if job.invented else "")


def ended(sheet: Sheet, sources: Sources, *cautions: str) -> Sheet:
    """A sheet with the titles of the sources that it names, and the cautions.

    Args:
        sheet: with everything else.
        sources: the bibliography; may be empty.
        cautions: beside the one that every sheet has.
    Returns:
        The sheet, whole.
    """
    named = bibliography(sheet, sources)
    foot = (*sheet.foot, *map(Text, (wording.CAUTION, *cautions)))
    return replace(sheet, sections=(*sheet.sections, *named), foot=foot)


def bibliography(sheet: Sheet, sources: Sources) -> tuple[Section, ...]:
    """The titles of the sources that a sheet names by their keys; none where it names none."""
    named = {word for text in paper.texts(sheet) for word in re.findall(r"\w+", text)}
    told = [source for key, source in sources.items() if key in named]
    rows = [
        (one.key, ", ".join(part for part in (one.title, one.publisher, one.year) if part), one.note)
        for one in told
    ]
    columns = (Column("key"), Column("document"), Column("note", BELOW))
    return (Section("Sources", (Table(columns, tuple(rows)),)),) if rows else ()
