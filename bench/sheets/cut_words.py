"""What the cut sheet, the labels and the printed page say of a cut list, so that all three say the same."""

from collections.abc import Iterator, Mapping

from bench import units
from bench.core.acceptance import HOLD, REJECT
from bench.core.records import CutMade, Settings, Species
from bench.core.river import River, SizedPart
from bench.core.stretches import (
    EDGE,
    KERF,
    LOST,
    MADE,
    OFFCUT,
    PIECE,
    REST,
    SCRAP,
    SPOILT,
    STRIP,
    TRIM,
    Board,
    Row,
    Run,
)
from bench.sheets import defects, evidence, inspecting, left_out, wording
from bench.sheets.paper import clean

CAUTION = (
    "Saw: guard and riving knife on, push sticks, a stop that frees the piece, no short piece held by hand; "
    "dust hurts the lungs."
)
_KIND = {
    PIECE: "piece",
    MADE: "cut already",
    SPOILT: "spoiled",
    LOST: "lost",
    TRIM: "end trim",
    OFFCUT: "offcut",
    SCRAP: "waste, too short to keep",
    KERF: "blade",
}


NOT_KEPT = (
    "NOT KEPT YET: the first cut ticked off at the saw keeps this layout; until then a change, a search or "
    "opening the job again may lay it out otherwise"
)


def kind(code: str) -> str:
    """A kind of stretch in words: `cut already`."""
    return _KIND[code]


def state(river: River) -> tuple[str, ...]:
    """How the plan stands, and all that must be known before a cut is made; the first line always there."""
    job, system = river.job, river.job.settings.units
    if not job.parts:
        said = ["no parts yet: nothing to cut"]
    elif river.plan is None:
        said = [f"no plan: {river.plan_refusal}"]
    else:
        left = sum(max(0, sized.part.quantity - sized.made) for sized in river.parts)
        if left:
            said = [f"plan: {wording.plan_line(river.plan, left, len(job.cuts))}{_proof(river)}"]
        else:
            said = [f"all {len(job.cuts)} cut: nothing left to cut"]
    if river.accepted is not None:
        said.append("BEING TRIED, not kept: do not cut by this sheet")
    elif river.plan is not None and river.plan.placed and not job.laid:
        said.append(NOT_KEPT)
    said += [wording.doubtful(river.doubtful), wording.outgrown(river.outgrown(), system)]
    return tuple(clean(text) for text in said if text)


def _proof(river: River) -> str:
    """Whether the plan is proved best, or how far above the bound it stands at most."""
    plan = river.plan
    if plan is None or not plan.placed:
        return ""
    if plan.optimal:
        return "; PROVED BEST in parts placed and sticks opened"
    gap = plan.sticks_opened - plan.fewest_possible
    return f"; not proved best{f', at most {gap} above the bound' if gap > 0 else ''}"


def rules(settings: Settings) -> str:
    """The habits of the saw that the plan was made with; what is nothing is left out."""
    kerf = settings.kerf
    rows = (
        (kerf, f"kerf {kerf.text}"),
        (settings.rip_kerf, f"rip kerf {(settings.rip_kerf or kerf).text}"),
        (settings.end_trim, f"trim {settings.end_trim.text} off each end"),
        (settings.margin, f"{settings.margin.text} kept from a defect"),
        (settings.squaring, f"squaring {settings.squaring.text} a piece, in its stop length"),
        (settings.edge, f"{settings.edge.text} off the edge of a plank"),
        (settings.planing, f"planing {settings.planing.text} off each face that is not at its size"),
        (settings.least_offcut, f"offcuts kept from {settings.least_offcut.text}"),
    )
    said = [text for typed, text in rows if typed is kerf or (typed is not None and typed.exact)]
    return f"rules: {'; '.join(said)}"


def stick_size(board: Board, system: str) -> str:
    """Section and length of a stick as they stand in the rack."""
    stick = board.stick
    size = units.sides(stick.width.exact, stick.depth.exact, system)
    return f"{size} x {units.place(stick.length.exact, system)}"


def wood(board: Board, woods: Mapping[str, Species]) -> str:
    """The wood of a stick, with its class."""
    found = woods.get(board.stick.species)
    if found is not None:
        return clean(evidence.wood_name(board.stick, found))
    variant = board.stick.variant
    return clean(f"{board.stick.species.replace('_', ' ')}{f', {variant}' if variant else ''}")


def verdict(board: Board) -> str:
    """The verdict for each use that is cut from a stick."""
    pairs = zip(board.uses, board.words, strict=True)
    return ", ".join(f"{inspecting.use_name(use)} {word.upper()}" for use, word in pairs)


def mark(board: Board) -> str:
    """What must stand beside the tag of a stick that is not plainly accepted; empty where it is."""
    if board.stick.condemned:
        return clean(f"CONDEMNED: {board.stick.condemned}")
    if REJECT in board.words:
        return "REJECTED"
    return "ON HOLD" if HOLD in board.words else ""


def ripping(board: Board, settings: Settings) -> tuple[str, ...]:
    """How a plank is ripped, step by step, before it is crosscut; none for a stick."""
    if not board.ripped:
        return ()
    system = settings.units
    said = ["RIP FIRST, from one edge, then crosscut each strip:"]
    for band in board.bands(settings):
        width = units.place(band.high - band.low, system, up=band.kind == STRIP)
        if band.kind == EDGE:
            said.append(f"joint that edge straight: {width} goes")
        elif band.kind == STRIP and band.row is not None:
            numbers = ", ".join(str(piece.number) for piece in band.row.pieces)
            said.append(f"strip {band.row.strip}: fence {width}, for cuts {numbers}")
        elif band.kind == REST:
            said.append(f"left of the board: {width} wide")
    return tuple(said)


def dress(sized: SizedPart | None, system: str) -> str:
    """The section a piece is dressed to."""
    return "" if sized is None else f"dress to {units.sides(sized.width, sized.depth, system)}"


def notes(sized: SizedPart | None) -> tuple[str, ...]:
    """What goes with a piece: critical, whose length it is, grain, least gravity, and the part's own note."""
    if sized is None:
        return ()
    part = sized.part
    said = [
        "CRITICAL" if part.critical else "",
        f"length of {part.piece_of}, to be scarfed" if part.piece_of else "",
        f"grain: {part.grain}" if part.grain else "",
        f"gravity {part.minimum_sg.text} or more" if part.minimum_sg is not None else "",
        f"note: {part.note}" if part.note else "",
    ]
    return tuple(clean(text) for text in said if text)


def finished(sized: SizedPart | None, run: Run, system: str) -> str:
    """The finished length where it is not the length sawn; else empty."""
    if sized is None or sized.part.length.exact == run.length:
        return ""
    return f"finish to {units.place(sized.part.length.exact, system, up=True)}"


def span(run: Run, system: str) -> str:
    """A stretch from its start to its end: `31 in to 33 in`."""
    return f"{units.place(run.start, system)} to {units.place(run.end, system)}"


def left(row: Row, system: str) -> Iterator[str]:
    """What is left of a row, and what of it is lost, in order along the stick."""
    for run in row.runs:
        if run.kind == OFFCUT:
            yield f"offcut {units.place(run.length, system)}: {span(run, system)}"
        elif run.kind in (LOST, TRIM, SCRAP):
            yield f"{kind(run.kind)}: {span(run, system)}"
        elif run.kind == SPOILT:
            why = f", {run.why}" if run.why else ""
            yield clean(f"spoiled {run.part}: {span(run, system)}{why}")


def found(board: Board, letters: bool = False) -> str:
    """The defects of a stick, with the letters of its drawing where wanted; empty where there are none."""
    said = [
        f"{inspecting.letter(defect.kind)} {defects.write(defect)}" if letters else defects.write(defect)
        for defect in board.stick.defects
    ]
    return clean(f"found: {'; '.join(said)}") if said else ""


def made_size(cut: CutMade, system: str) -> str:
    """The section a piece was cut to; empty where it was not recorded."""
    return units.sides(cut.width, cut.depth, system) if cut.width and cut.depth else ""


def unplaced(river: River) -> tuple[tuple[int, str, str, bool], ...]:
    """Parts without a place: how many, which, why, and whether critical."""
    return tuple(
        (out.quantity, clean(out.part), clean(why), out.critical) for out, why in left_out.rows(river)
    )
