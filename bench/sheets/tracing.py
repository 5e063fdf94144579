"""A trace in words: every line may name a thing that has a trace of its own."""

from collections.abc import Iterable, Mapping

from bench import units
from bench.core.breaks import Result
from bench.core.defects import lying_in
from bench.core.frozen import record
from bench.core.judging import Judged
from bench.core.records import Species
from bench.core.river import River
from bench.core.tracing import Noted, PartTrace, Piece, StickTrace
from bench.sheets import (
    breaking,
    defects,
    evidence,
    section_sheet,
    sections,
    stick_sheet,
    telling,
    wording,
)
from bench.sheets.differing import value
from bench.sheets.writing_text import WIDTH

PART, STICK = "part", "stick"
NOT_ENTERED = "not in the record"


@record
class Row:
    """A line of a trace; a heading stands alone, and what has a target can be followed."""

    text: str
    heading: bool = False
    target: tuple[str, str] | None = None  # PART or STICK, and its name


def noted(where: Iterable[Noted]) -> str:
    """Entries of the record by number, with the day of each.

    Args:
        where: in the order of the record.
    Returns:
        Like `entries 12 (2026-03-14), 40 (2026-03-21)`; says so where there is none.
    """
    said = [f"{one.number} ({one.at[:10]})" for one in where]
    if not said:
        return NOT_ENTERED
    return f"{'entry' if len(said) == 1 else 'entries'} {', '.join(said)}"


def of_part(
    trace: PartTrace, river: River, woods: Mapping[str, Species], width: int = WIDTH
) -> tuple[Row, ...]:
    """A part back to the wood.

    Args:
        trace: of the part.
        river: of the job.
        woods: the library by species key.
        width: of a line of a verdict, in characters.
    Returns:
        Rows: the part, its section, its pieces, then each stick with its verdict for the use of the part.
    """
    part, system = trace.part, river.job.settings.units
    marks = [*(["CRITICAL"] if part.critical else []), *([f"group {part.group}"] if part.group else [])]
    marks += [barred(trace, river)] if barred(trace, river) else []
    rows = [
        Row(f"Part {part.name}{''.join(f', {mark}' for mark in marks)}", heading=True),
        Row(telling.part_words(part, _named(part.species, woods))),
        Row(f"in the list by {noted(trace.noted)}"),
        *_section(trace, river, system),
        Row("Pieces", heading=True),
        *(_piece(piece, STICK, river) for piece in trace.pieces),
    ]
    if trace.missing:
        rows.append(Row(f"{trace.missing} with no place yet: no stick at hand can give it"))
    for stick in trace.sticks:
        rows += _stick(stick, river, woods, part.use, width)
    return tuple(rows)


def of_stick(trace: StickTrace, river: River, woods: Mapping[str, Species]) -> tuple[Row, ...]:
    """A stick on to every part.

    Args:
        trace: of the stick.
        river: of the job.
        woods: the library by species key.
    Returns:
        Rows: the stick, its verdict for every use, and each piece made of it.
    """
    rows = [*_stick(trace, river, woods), Row("Parts made of it", heading=True)]
    if not trace.pieces:
        rows.append(Row("none, and none is laid out on it"))
    return (*rows, *(_piece(piece, PART, river) for piece in trace.pieces))


def _named(key: str, woods: Mapping[str, Species]) -> str:
    wood = woods.get(key)
    return wood.name if wood is not None else key


def _section(trace: PartTrace, river: River, system: str) -> list[Row]:
    """The size it is made to, and what the choice of another wood gives away."""
    sized, view = trace.sized, river.section
    size = units.sides(sized.width, sized.depth, system)
    rows = [Row("Section", heading=True)]
    if not sized.resized or view.resized is None:
        return [*rows, Row(f"as drawn, {size}")]
    drawn = units.sides(sized.part.width.exact, sized.part.depth.exact, system)
    return [
        *rows,
        Row(f"{drawn} drawn; made {size} of {sections.new_wood(view)}"),
        *map(Row, sections.match_and_price(view.choice, view.resized, sections.of_stick(view))),
        Row(f"figures of the new wood: {sections.basis(view.use)}" if view.use else ""),
        Row(f"chosen by {noted([trace.section] if trace.section else [])}"),
        Row(wording.CAUTION_SHORT),
        Row(section_sheet.CAUTION),
    ]


def _piece(piece: Piece, target: str, river: River) -> Row:
    system = river.job.settings.units
    where = f"{units.place(piece.start, system)} to {units.place(piece.end, system)}"
    named = f"{piece.part} from {piece.stick}, {where}"
    to = (target, piece.stick if target == STICK else piece.part)
    if piece.cut is None:
        return Row(f"laid out, not cut: {named}", target=to)
    cut = piece.cut
    dressed = cut.width is not None and cut.depth is not None
    size = f", to {units.sides(cut.width, cut.depth, system)}" if dressed else ""  # type: ignore[arg-type]
    other = "; NOT THE SECTION IT HAS NOW" if cut in river.outgrown() else ""
    other += f"; NOT ACCEPTED NOW{_found_in(piece, river)}" if cut in river.doubtful else ""
    return Row(f"cut: {named}{size}{other}; {noted([piece.noted] if piece.noted else [])}", target=to)


def _found_in(piece: Piece, river: River) -> str:
    """The defects that lie in a piece; empty where it is the stick that is not accepted."""
    stick = river.job.stick(piece.stick)
    found = lying_in(stick, piece.start, piece.end) if stick is not None else ()
    return f", in it lies {defects.write_all(found)}" if found else ""


def barred(trace: PartTrace, river: River) -> str:
    """Whether pieces of a part are not accepted now, for a heading; empty where all are.

    Args:
        trace: of the part.
        river: of the job.
    """
    count = sum(piece.cut is not None and piece.cut in river.doubtful for piece in trace.pieces)
    return f"{count} NOT ACCEPTED NOW" if count else ""


def _stick(
    trace: StickTrace, river: River, woods: Mapping[str, Species], use: str = "", width: int = WIDTH
) -> list[Row]:
    system = river.job.settings.units
    rows = [Row(f"Stick {trace.tag}", heading=True, target=(STICK, trace.tag))]
    if trace.judged is None:
        rows.append(Row("no longer in the rack: ripped, or taken out"))
    else:
        rows += _found(trace.judged, woods, system)
    rows.append(Row(f"measured and changed by {noted(trace.noted)}"))
    rows += [Row(f"sawn from {tag}", target=(STICK, tag)) for tag in trace.lineage]
    rows += [Row(f"sawn into {tag}", target=(STICK, tag)) for tag in trace.offspring]
    if trace.judged is not None:
        uses = [use] if use else list(trace.judged.uses)
        for one in uses:
            _, *lines = stick_sheet.use_lines(trace.judged, one, system, width)
            rows += [Row(text) for text in lines]
    rows += [_coupon(found, trace.tag, system) for found in trace.coupons]
    return rows


def _found(judged: Judged, woods: Mapping[str, Species], system: str) -> list[Row]:
    stick, verdict = judged.stick, judged.verdict
    size = f"{stick.width.text} x {stick.depth.text} x {stick.length.text}"
    wood = evidence.wood_name(stick, woods.get(stick.species))
    rows = [Row(f"{wood}, {size}{f', lot {stick.lot}' if stick.lot else ''}")]
    rows += [Row(value(reading)) for reading in stick.readings]
    rows += [Row(f"weighed: {value(weighing)}") for weighing in stick.weighings]
    if verdict.value is not None and verdict.low is not None and verdict.high is not None:
        rows.append(Row(f"gravity {wording.gravity(verdict)} oven-dry, {wording.band(verdict)} (95 %)"))
    rows.append(Row(f"{wording.word(verdict)}, {wording.reasons(verdict)[0]}"))
    return rows


def _coupon(found: Result, tag: str, system: str) -> Row:
    coupon = found.coupon
    of = "cut from it" if coupon.stick == tag else f"of its lot, cut from {coupon.stick or 'it'}"
    aside = f"; SET ASIDE: {coupon.aside}" if coupon.aside else ""
    return Row(f"coupon {coupon.tag}, {coupon.test} test, {of}: {breaking.short(found, system)}{aside}")
