"""The verbs `pack` and `bring`: things of a job into a parcel, and a parcel into another job."""

from datetime import datetime
from pathlib import Path

from bench.core import parcels
from bench.core.errors import CannotSave, Refusal
from bench.core.history import EDIT, Entry
from bench.core.parcels import CLASH, OURS, RENAMED, THEIRS, Decision, Item, Parcel
from bench.headless import job_files
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.sheets import parcel_file
from bench.sheets.differing import title
from bench.sheets.telling import told
from bench.storage import JobFile, TextFiles

JOB, PARCEL = "JOB", "PARCEL"
_A_JOB = Option(JOB, "name", "the file of a job", needed=True, wanted="the file of a job")
_THING = "a thing as it is listed, such as 'stick A-01'"
OPTIONS = {
    "pack": (
        Option(JOB, "name", "the file of a job, which is only read", needed=True, wanted="the file of a job"),
        Option(PARCEL, "name", "the file to write", needed=True, wanted="the path of a file"),
        Option("--lot", "name", "only this lot: its sticks, what is off them, its coupons", wanted="a lot"),
        Option("--replace", "flag", "write over a file that is there"),
    ),
    "bring": (
        _A_JOB,
        Option(PARCEL, "name", "a parcel of another job", needed=True, wanted="the path of a parcel"),
        Option("--ours", "name", "clashes: ours stays; may be given again", many=True, wanted=_THING),
        Option("--theirs", "name", "clashes: theirs in the place of ours", many=True, wanted=_THING),
        Option("--both", "name", "clashes: theirs under another name, 'stick A-01=A-91'", many=True,
               wanted="a thing and a free name, 'stick A-01=A-91'"),
        Option("--rest", "choice", "everything else that clashes", choices=(OURS, THEIRS)),
        Option("--look", "flag", "only tell what is new, what is here already, and what clashes"),
    ),
}  # fmt: skip


def _pack(given: Given) -> Answer:
    job = job_files.read(Path(given.text(JOB)))
    with given.naming({"lot": "--lot"}):
        parcel = parcels.pack(job, _today(), given.text("--lot"))
    where = TextFiles().write(given.text(PARCEL), parcel_file.write(parcel), given.has("--replace"))
    counts = {
        name: len(getattr(parcel, field))
        for name, (field, _) in parcel_file.KINDS.items()
        if field != "section"
    }
    rows = (
        ("job", parcel.source),
        ("what", parcel.what),
        ("file", where),
        *((name, str(count)) for name, count in counts.items()),
    )
    return Answer({"written": where, "what": parcel.what, **counts}, (Table("Packed", ("", ""), rows),))


def _today() -> str:
    return datetime.now().date().isoformat()


def _bring(given: Given) -> Answer:
    path, name = Path(given.text(JOB)), given.text(PARCEL)
    parcel = parcel_file.read(TextFiles().read(name), name)
    if given.has("--look"):
        return _answer(parcel, parcels.items(job_files.read(path), parcel), "")
    file = JobFile.open(path)
    try:
        job = file.history.job
        items = parcels.items(job, parcel)
        edit = parcels.bring(job, parcel, _decided(given, items))
        edit.check(job)
        if not file.writable():
            raise CannotSave(str(path), "it can only be read here, or is open elsewhere; close it there")
        file.append([(Entry(EDIT, edit), datetime.now().isoformat(timespec="seconds"))])
    finally:
        file.close()
    return _answer(parcel, items, told(edit))


def _decided(given: Given, items: tuple[Item, ...]) -> dict[tuple[str, str], Decision]:
    """What is done with each clash; a thing that does not clash is refused, so that no slip goes unseen."""
    clashes = {title(item.kind, item.name): item for item in items if item.state == CLASH}
    found: dict[tuple[str, str], Decision] = {}
    for option, what in (("--ours", OURS), ("--theirs", THEIRS), ("--both", RENAMED)):
        for text in given.texts(option):
            named, _, renamed = text.partition("=")
            item = clashes.get(named.strip())
            if item is None:
                listed = ", ".join(list(clashes)[:4]) or "nothing does"
                raise Refusal(f"{option}: {named.strip()!r} does not clash; these do: {listed}", option, text)
            if what == RENAMED and not renamed.strip():
                raise Refusal(f"{option}: {text!r} gives no new name; 'stick A-01=A-91' is wanted", option)
            found[item.kind, item.name] = Decision(what, renamed.strip())
    rest = given.text("--rest")
    for item in clashes.values():
        if rest and (item.kind, item.name) not in found:
            found[item.kind, item.name] = Decision(rest)
    return found


def _answer(parcel: Parcel, items: tuple[Item, ...], done: str) -> Answer:
    rows = tuple((title(item.kind, item.name), item.state) for item in items)
    data = {
        "from": parcel.source,
        "what": parcel.what,
        "brought_in": bool(done),
        "things": [{"kind": item.kind, "name": item.name, "state": item.state} for item in items],
    }
    head = [("from", parcel.source), ("what", parcel.what), ("packed", parcel.written)]
    head.append(("record", done or "nothing is brought in yet"))
    return Answer(data, (Table("Parcel", ("", ""), tuple(head)), Table("Things", ("thing", "state"), rows)))


ANSWERS = {"pack": _pack, "bring": _bring}
