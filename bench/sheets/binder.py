"""The binder: everything of a job as one sheet, for whoever has to answer for it or to approve it."""

from collections.abc import Mapping, Sequence

from bench import units
from bench.core import tracing
from bench.core.frozen import replace
from bench.core.records import Figure, Species
from bench.core.river import River
from bench.sheets import (
    acceptance_sheet,
    break_sheet,
    breaking,
    cut_sheet,
    heading,
    inspecting,
    parts_cells,
    record_sheet,
    section_sheet,
    stick_sheet,
    wording,
)
from bench.sheets import tracing as trace_words
from bench.sheets.paper import MARK, SMALL, Block, Section, Sheet, Text, table
from bench.sheets.record_sheet import Record

NO_STEPS = (
    "The formula and numbers behind each figure are left out here; the record of a stick alone, and this "
    "binder where it is asked for, have them."
)
UNDER = " " * 8  # begins a line that goes on from the one before
UNBROKEN = 10_000  # characters: lines that the writers break
_PARTS = (">pieces", "part", ":finished", "wood", "becomes", "asked for")


def sheet(
    river: River,
    record: Record,
    woods: Mapping[str, Species],
    printed: str = "",
    sources: heading.Sources = heading.NO_SOURCES,
    retraced: bool = False,
) -> Sheet:
    """The binder of a job.

    Args:
        river: the job with everything worked out.
        record: its entries, each with its time.
        woods: the library by species key.
        printed: the day it is printed; empty for none.
        sources: the bibliography, for those that are named; may be empty.
        retraced: with the formula and numbers of every step for every stick.
    Returns:
        The sheet.
    """
    begun = heading.begun("binder", river.job, printed)
    head: list[Block] = [Text(wording.CAUTION, MARK)]
    head += [Text(said) for said in _in_short(river, record)]
    head.append(heading.SIGNATURE)
    chapters = (
        Section("Acceptance summary", sections=acceptance_sheet.sections(river, woods), fresh=True),
        _section(river, woods),
        _parts(river, woods),
        critical_parts(river, record, woods),
        cut_sheet.chapter(river, woods),
        _breaks(river, woods),
        _sticks(river, woods, retraced),
        _woods(river, woods),
        Section("Record", sections=record_sheet.sections(record), fresh=True),
    )
    told = tuple(chapter for chapter in chapters if chapter.blocks or chapter.sections)
    return heading.ended(replace(begun, head=tuple(head), sections=told, numbered=True), sources)


def _in_short(river: River, record: Record) -> tuple[str, ...]:
    job = river.job
    pieces = sum(part.quantity for part in job.parts)
    return (
        f"{len(job.sticks)} sticks, {len(job.parts)} lines of parts ({pieces} pieces), {len(job.cuts)} cut, "
        f"{len(job.coupons)} coupons, {len(record)} entries of the record",
        f"job started {job.started or '--'}; first entry {_day(record, 0)}, last {_day(record, -1)}",
    )


def _day(record: Record, place: int) -> str:
    return record[place][0].replace("T", " ") if record else "--"


def _section(river: River, woods: Mapping[str, Species]) -> Section:
    inner = section_sheet.decision(river.section, river, woods)
    return Section("Section decision", (Text(section_sheet.CAUTION, SMALL),), inner, fresh=True)


def _parts(river: River, woods: Mapping[str, Species]) -> Section:
    """The drawing's list, each part with its finished size and what is asked of it."""
    rows = []
    for sized in river.parts:
        part = sized.part
        drawn = f"{part.width.text} x {part.depth.text} {_name(part.species, woods)}"
        said = [
            "CRITICAL" if part.critical else "",
            f"drawn {drawn}" if sized.resized or sized.species != part.species else "",
            f"gravity {part.minimum_sg.text} or more" if part.minimum_sg is not None else "",
            f"scarf {parts_cells.write_scarf(part)}" if part.scarf is not None else "",
            f"group {part.group}" if part.group else "",
            f"grain: {part.grain}" if part.grain else "",
            part.note,
        ]
        size = f"{units.sides(sized.width, sized.depth, river.job.settings.units)} x {part.length.text}"
        asked = "; ".join(text for text in said if text)
        use, name = inspecting.use_name(part.use), _name(sized.species, woods)
        rows.append((str(part.quantity), part.name, size, name, use, asked))
    blocks: tuple[Block, ...] = (table(_PARTS, tuple(rows)),) if rows else ()
    return Section("Parts", blocks, fresh=True)


def critical_parts(river: River, record: Record, woods: Mapping[str, Species]) -> Section:
    """Every critical part back to its wood: cuts, sticks, readings, verdicts, section, coupons, entries.

    Args:
        river: the job with everything worked out.
        record: its entries, each with its time.
        woods: the library by species key.
    Returns:
        The chapter; without a section where no part is critical.
    """
    critical = [part.name for part in river.job.parts if part.critical]
    noted = tracing.notes(record) if critical else None
    sections = []
    for name in critical:
        trace = tracing.of_part(name, river, noted) if noted is not None else None
        if trace is not None:
            rows = trace_words.of_part(trace, river, woods, UNBROKEN)[1:]
            title = f"{name}: {trace.part.quantity} wanted, {trace.sized.made} cut"
            barred = trace_words.barred(trace, river)
            title += f", {barred}" if barred else ""
            first, *inner = _under_headings(rows)
            sections.append(Section(title, first.blocks, tuple(inner)))
    return Section("Critical parts, traced to their wood", sections=tuple(sections), fresh=True)


def _under_headings(rows: Sequence[trace_words.Row]) -> tuple[Section, ...]:
    """Lines of a trace, each under the heading before it; those before the first heading have no title."""
    found: list[tuple[str, list[Block]]] = [("", [])]
    for row in rows:
        if row.heading:
            found.append((row.text, []))
        elif row.text.startswith(UNDER) and found[-1][1] and isinstance(found[-1][1][-1], Text):
            # What another document says of the point before: never a line of its own, without its verdict.
            found[-1][1][-1] = Text(f"{found[-1][1][-1].text}; {row.text.strip()}")
        elif row.text.strip():
            found[-1][1].append(Text(row.text.strip()))
    return tuple(Section(title, tuple(blocks)) for title, blocks in found)


def _breaks(river: River, woods: Mapping[str, Species]) -> Section:
    if not river.job.coupons:
        return Section("Break tests")
    inner = break_sheet.sections(river.job, woods)
    return Section("Break tests", (Text(breaking.CAUTION, SMALL),), inner, fresh=True)


def _sticks(river: River, woods: Mapping[str, Species], retraced: bool) -> Section:
    system = river.job.settings.units
    records = tuple(
        stick_sheet.record(judged, woods.get(judged.stick.species), system, retraced) for judged in river.rack
    )
    said = () if retraced or not records else (Text(NO_STEPS, SMALL),)
    return Section("Sticks", said, records, fresh=True)


def _woods(river: River, woods: Mapping[str, Species]) -> Section:
    """Every figure of every wood of the job, with its source."""
    job = river.job
    keys = [stick.species for stick in job.sticks] + [part.species for part in job.parts]
    keys += [job.section.plan, job.section.use, *(layer.species for layer in job.section.layers)]
    keys += [coupon.species for coupon in job.coupons]
    used = [woods[key] for key in dict.fromkeys(keys) if key in woods]
    heads = ("figure", ":value", "of", "source", "standing")
    sections = tuple(
        Section(wood.name, (table(heads, tuple(_figure(one) for one in wood.figures)),)) for wood in used
    )
    return Section("Woods and their sources", sections=sections, fresh=True)


def _figure(figure: Figure) -> tuple[str, ...]:
    unit = "" if figure.unit == "-" else f" {figure.unit}"
    of = (
        f"at {figure.at}" if figure.at else "",
        f"volume {figure.volume}" if figure.volume else "",
        figure.variant,
    )
    standing = {"read": "", "memory": "RECALLED, NOT READ", "trade": "NO PUBLISHED SOURCE"}[figure.standing]
    unused = "" if figure.used else "NOT USED"
    return (
        figure.quantity.replace("_", " "),
        f"{figure.printed}{unit}",
        ", ".join(text for text in of if text),
        f"{figure.source} {figure.where}",
        ", ".join(text for text in (standing, unused) if text),
    )


def _name(key: str, woods: Mapping[str, Species]) -> str:
    return woods[key].name if key in woods else key
