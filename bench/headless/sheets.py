"""The verbs `sheets`, every sheet of a job in every format, and `record`, the whole record out and in."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from bench.core.errors import BadInput, Clash, FileFault, Refusal
from bench.core.frozen import replace
from bench.core.records import Job, Species
from bench.core.river import River, flow
from bench.headless import cut_job, job_files, shelf
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.sheets import heading, kinds, record_lines
from bench.storage import TextFiles, write_new

JOB, RECORD = "JOB", "FILE"
KIND, FORMAT, OUT, STICK = "--kind", "--format", "--out", "--stick"
DATE, EVERY_STEP, REPLACE = "--date", "--every-step", "--replace"
AS_ACCEPTED = "--as-accepted"
_A_FILE = "the path of a file"
OPTIONS = {
    "sheets": (
        Option(JOB, "name", "the job, which is only read", needed=True, wanted="the file of a job"),
        Option(KIND, "choice", f"of sheet; {kinds.BINDER} if not given", choices=kinds.KINDS),
        Option(FORMAT, "choice", f"as {OUT} ends, or html, if not given", choices=kinds.FORMATS),
        Option(OUT, "file", "to write; named after the job in this folder if not given", wanted=_A_FILE),
        Option(STICK, "name", f"tag of the stick, for {KIND} {kinds.STICK}", wanted="the tag of a stick"),
        Option(DATE, "name", "printed on it; today if not given", wanted="a day like 2031-05-01"),
        Option(EVERY_STEP, "flag", "in a binder, formula and numbers of every step for every stick"),
        Option(REPLACE, "flag", "write over a file that is there"),
    ),
    "record": (
        Option(RECORD, "name", "a job, to write its whole record; or such a record (.jsonl), to make a job "
               "of it again", needed=True, wanted="the file of a job, or of a record"),
        Option(OUT, "file", "to write: the record, or the new job, which must not be there", needed=True,
               wanted=_A_FILE),
        Option(AS_ACCEPTED, "flag", "take what the rules of today would refuse too: it was accepted once"),
        Option(REPLACE, "flag", "write a record over a file that is there; never a job"),
    ),
}  # fmt: skip


def _sheets(given: Given) -> Answer:
    kind = given.text(KIND, kinds.BINDER)
    path, form = _place(given, kind)
    tag = given.text(STICK)
    if (kind == kinds.STICK) != bool(tag):
        wanted = f"the tag of a stick is wanted with {KIND} {kinds.STICK}, and with no other"
        raise Refusal(f"{STICK}: {repr(tag) if tag else 'not given'}; {wanted}", STICK, tag)
    if given.has(EVERY_STEP) and kind != kinds.BINDER:
        raise Refusal(f"{EVERY_STEP}: is for {KIND} {kinds.BINDER}; the others have every step", EVERY_STEP)
    library = shelf.shelf()
    job, record = job_files.read_whole(Path(given.text(JOB)))
    system = given.text("--units", job.settings.units)
    job = replace(job, settings=replace(job.settings, units=system))
    out = path or kinds.file_name(tag or job.name, kind, form)
    made_of = kinds.Shelf(_river(job, library.species), record, library.species, library.sources, _day(given))
    with given.naming({"stick": STICK}):
        text = kinds.text_of(kind, form, made_of, tag, given.has(EVERY_STEP))
    written = _write(given, out, text)
    warnings = ((heading.INVENTED,) if job.invented else ()) + shelf.faults(library)
    data = {"kind": kind, "format": form, "written": written, "characters": len(text)}
    rows = (("kind", kind), ("format", form), ("written", written))
    return Answer(data, (Table(f"Sheet of {heading.job_name(job)}", ("", ""), rows),), warnings)


def _place(given: Given, kind: str) -> tuple[str, str]:
    """Path, empty where it is named after the job, and format; refused before anything is worked out."""
    path, form = given.text(OUT), given.text(FORMAT)
    if path:
        if not form:
            with given.naming({"ending": OUT}):
                form = kinds.form_of(path)
        _spare(given, path)
    form = form or "html"
    if form == kinds.LINES and kind != kinds.RECORD:
        raise Refusal(
            f"{FORMAT}: {form} is for {KIND} {kinds.RECORD}; {', '.join(kinds.WRITERS)} would be read"
        )
    return path, form


def _spare(given: Given, path: str) -> None:
    """Refuse a file that is there already, unless it may be written over."""
    try:
        there = Path(path).expanduser().exists()
    except (OSError, RuntimeError, ValueError):
        return  # no path: writing says so
    if there and not given.has(REPLACE):
        raise _there(path)


def _there(path: str) -> Refusal:
    return Refusal(f"{OUT}: {path} is there already; another name, or {REPLACE}, is wanted", OUT, path)


def _write(given: Given, path: str, text: str) -> str:
    try:
        return TextFiles().write(path, text, given.has(REPLACE))
    except Clash:
        raise _there(path) from None
    except FileFault as fault:
        raise Refusal(f"{OUT}: {fault.message}", OUT, path) from None


def _day(given: Given) -> str:
    typed = given.text(DATE)
    if not typed:
        return date.today().isoformat()
    try:
        return date.fromisoformat(typed).isoformat()
    except ValueError:
        raise BadInput(DATE, typed, "is no day", "a day like 2031-05-01") from None


def _river(job: Job, woods: dict[str, Species]) -> River:
    """Everything of a job as the app first shows it, parts of scarfed lengths and all."""
    river = flow(job, woods)
    return river if river.plan is None else cut_job.laid_out(job, woods, None).river


def _record(given: Given) -> Answer:
    path, out = given.text(RECORD), given.text(OUT)
    if job_files.is_job(Path(path)):
        return _record_out(given, path, out)
    if given.has(REPLACE):
        raise Refusal(f"{REPLACE}: a job is never written over; another name is wanted", REPLACE)
    return _record_in(given, path, out)


def _record_out(given: Given, path: str, out: str) -> Answer:
    if given.has(AS_ACCEPTED):
        raise Refusal(f"{AS_ACCEPTED}: is for a record that is read; {path} is a job", AS_ACCEPTED)
    _spare(given, out)
    job, record = job_files.read_whole(Path(path))
    written = _write(given, out, record_lines.write(record, job.name))
    return _told(job, len(record), written)


def _record_in(given: Given, path: str, out: str) -> Answer:
    """A new job of a record, entry for entry; nothing is made where a line is bad."""
    text = TextFiles().read(path, record_lines.LARGEST)
    found = record_lines.read(text, checked=not given.has(AS_ACCEPTED))
    if found.faults:
        more = len(found.faults) - 1
        rest = f" (and {more} more fault{'' if more == 1 else 's'})" if more else ""
        raise Refusal(f"{path}, {found.faults[0]}{rest}; nothing was made", RECORD, path)
    place = Path(out).expanduser()
    if place.suffix != job_files.ENDING:
        raise Refusal(f"{OUT}: {out} does not end in {job_files.ENDING}, as a job does", OUT, out)
    try:
        written = write_new(found.record, place)
    except FileFault as fault:
        raise Refusal(f"{OUT}: {fault.message}", OUT, out) from None
    return _told(found.history.job, len(found.record), str(written))


def _told(job: Job, entries: int, written: str) -> Answer:
    rows = (("entries", str(entries)), ("written", written))
    data = {"job": job.name, "entries": entries, "written": written}
    return Answer(data, (Table(f"Record of {heading.job_name(job)}", ("", ""), rows),))


ANSWERS: dict[str, Callable[[Given], Answer]] = {"sheets": _sheets, "record": _record}
