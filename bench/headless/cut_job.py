"""The cuts of a job as the app shows them, its sheets as files, and what to buy; the job is only read."""

from collections.abc import Callable, Mapping
from pathlib import Path

from bench.core import buying, cutting, laying, sawing, stretches, working, working_buying
from bench.core.acceptance import HOLD
from bench.core.edits import PutParts
from bench.core.errors import Clash, FileFault, Missing, Refusal
from bench.core.frozen import record, replace
from bench.core.records import Job, Part, Scarfed, Species
from bench.core.river import River, flow
from bench.core.scarfing import Split
from bench.headless import cut_order, cut_rows, job_files, shelf
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given
from bench.headless.cut_rows import Cuts, Scarf
from bench.sheets import cut_sheet, heading, kinds, labels, left_out, parts_csv, wording
from bench.storage import TextFiles

Woods = Mapping[str, Species]

SEED = 2  # of the search: that of the app's first one
REPLACE = "--replace"
# option -> the text of that file
WRITTEN: dict[str, Callable[[River, Woods], str]] = {
    "--sheet": lambda river, woods: kinds.written(cut_sheet.sheet(river, woods), "text"),
    "--labels": lambda river, woods: kinds.written(labels.sheet(river, woods), "text"),
    "--page": lambda river, woods: kinds.written(cut_sheet.sheet(river, woods), "html"),
}


@record
class Laid:
    """A job with its layout, and which of its parts are made of lengths."""

    river: River
    plan: cutting.CutPlan
    scarfed: tuple[Scarf, ...] = ()


def answer(path: Path, given: Given, moves: int | None) -> Answer:
    """The cuts of a job.

    Args:
        path: of its file, which is only read.
        given: the options; the files that they name are written.
        moves: of a longer search than the app's first; None: no such search.
    Returns:
        The answer.
    Raises:
        Refusal: the job, its layout, a table of parts or a file to be written, each named.
    """
    _check_files(given)
    library = shelf.shelf()
    woods = library.species
    job = _with_parts(job_files.read(path), given, woods)
    laid = laid_out(job, woods, moves)
    river = laid.river
    cuts = _cuts(laid)
    system = given.text("--units", job.settings.units)
    data, tables = cut_rows.data(cuts), list(cut_rows.tables(cuts, system))
    steps = working.of_cuts(river.problem, laid.plan, job.cuts)
    if given.has("--order"):
        order = _order(river)
        names = {key: species.name for key, species in woods.items()}
        data["order"] = cut_order.data(order)
        tables += cut_order.tables(order, names, system)
        steps = (*steps, *working_buying.of_order(order))
    said = [*_warnings(river, system), *cuts.warnings(), *shelf.faults(library)]
    if moves is not None and job.laid:
        said.append("--moves: no other layout is looked for, as this one is being sawn")
    written = _write(given, river, woods)
    if written:
        data["written"] = written
        tables.append(Table("Written", ("file",), tuple((name,) for name in written)))
    return Answer(data, tuple(tables), tuple(said), steps)


def _with_parts(job: Job, given: Given, woods: Woods) -> Job:
    """The job with the parts of a table as well."""
    if not given.has("--parts"):
        return job
    name = given.text("--parts")
    taken = [part.name for part in job.parts]
    try:
        text = TextFiles().read(name)
        sheet = parts_csv.read(text, woods, taken, job.settings.units, job.section.plan)
        if sheet.faults:
            others = len(sheet.faults) - 1
            more = f" (and {others} more fault{'' if others == 1 else 's'})" if others else ""
            raise Refusal(f"{name}, {sheet.faults[0]}{more}")
        return PutParts(sheet.parts).apply(job)
    except Refusal as refusal:
        raise Refusal(f"--parts: {refusal.message}", "--parts", name) from None


def laid_out(job: Job, woods: Woods, moves: int | None) -> Laid:
    """What the app shows once its search is at an end: the layout, with lengths for what has no place."""
    river = flow(job, woods)
    if river.plan is None:
        raise river.plan_refusal or Missing("cut list", "the job has no layout")
    if job.laid:
        return Laid(river, river.plan)
    plan = river.plan
    if moves is not None and not (plan.optimal and not plan.unplaced):
        plan = cutting.plan(river.problem, moves, SEED, [plan])
    changed, plan, scarfed = laying.with_scarfs(river.problem, plan, river.parts, job)
    river = replace(river, problem=changed, plan=plan)
    if scarfed:
        river = flow(sawing.with_lengths(job, scarfed), woods, previous=river)
    by_name = {part.name: part for part in job.parts}
    return Laid(river, river.plan or plan, tuple(_scarf(by_name[one.whole], one) for one in scarfed))


def _scarf(whole: Part, one: Scarfed) -> Scarf:
    names = tuple(part.name for part in one.lengths)
    lengths = tuple(part.length.exact for part in one.lengths)
    return Scarf(Split(whole.name, names, lengths), whole.length.exact)


def _cuts(laid: Laid) -> Cuts:
    river, plan = laid.river, laid.plan
    boards = stretches.boards(river)
    planned = {row.tag for row in plan.sticks}
    held = {board.stick.tag for board in boards if HOLD in board.words}
    return Cuts(
        river.problem,
        plan,
        tuple(why for _, why in left_out.rows(replace(river, plan=plan))),
        made=river.job.cuts,
        scarfed=laid.scarfed,
        held=frozenset(held & planned),
        notes={part.name: _note(part) for part in river.job.parts},
        name=heading.job_name(river.job),
    )


def _note(part: Part) -> dict[str, str]:
    return {key: text for key in ("group", "grain") if (text := getattr(part, key))}


def _warnings(river: River, system: str) -> tuple[str, ...]:
    said = (
        heading.INVENTED if river.job.invented else "",
        wording.doubtful(river.doubtful),
        wording.outgrown(river.outgrown(), system),
    )
    return tuple(text for text in said if text)


def _order(river: River) -> buying.Order:
    try:
        return buying.order(river)
    except Refusal as refusal:
        raise Refusal(f"--order: {refusal.message}", "--order") from None


# Files.


def _check_files(given: Given) -> None:
    """Refuse, before anything is written, what is there already and what is named twice."""
    names: dict[Path, str] = {}
    for option in WRITTEN:
        if not given.has(option):
            continue
        name = given.text(option)
        if not name.strip():
            raise Refusal(f"{option}: no name given; the path of a file is wanted", option)
        try:
            place = Path(name).expanduser().absolute()
            there = place.exists()
        except (OSError, RuntimeError, ValueError):
            continue  # no path: writing says so
        if place in names:
            raise Refusal(
                f"{option}: {name} is the file of {names[place]} as well; each needs its own", option
            )
        names[place] = option
        if there and not given.has(REPLACE):
            raise _there(option, name)


def _write(given: Given, river: River, woods: Woods) -> list[str]:
    """Write every file that is asked for; their full paths."""
    texts = {option: make(river, woods) for option, make in WRITTEN.items() if given.has(option)}
    paths = []
    for option, text in texts.items():
        name = given.text(option)
        try:
            paths.append(TextFiles().write(name, text, given.has(REPLACE)))
        except Clash:
            raise _there(option, name) from None
        except FileFault as fault:
            raise Refusal(f"{option}: {fault.message}", option, name) from None
    return paths


def _there(option: str, name: str) -> Refusal:
    return Refusal(f"{option}: {name} is there already; another name, or {REPLACE}, is wanted", option, name)
