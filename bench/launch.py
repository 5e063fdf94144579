"""Wires the app to the job file, the library and the clock."""

import contextlib
import os
import sys
import tempfile
import threading
import traceback
from collections.abc import Sequence
from datetime import datetime
from functools import partial
from pathlib import Path

# A lone Escape is told from the start of a longer key by waiting; 25 ms is enough for a local terminal.
os.environ.setdefault("ESCDELAY", "25")
# Frames a second at most: of a key that is held, a serial line of 115,200 baud carries so many and no more.
os.environ.setdefault("TEXTUAL_FPS", "38")

from bench import library, storage
from bench.core import starting
from bench.core.edits import StartJob
from bench.core.errors import CannotSave, FileFault, Refusal
from bench.core.history import EDIT, EMPTY, Entry, History
from bench.core.record import Record
from bench.core.records import Job, Source, Species
from bench.ui import before_screen
from bench.ui.actions import KeyTable, checked, settings_page
from bench.ui.app import BenchApp
from bench.ui.bench_screen import BenchScreen
from bench.ui.characters import shows_boxes
from bench.ui.preferences import Preferences

SEARCH_MOVES = 20_000  # about a second of looking for a better layout, in the background


def _now() -> str:
    return datetime.now().isoformat(timespec="seconds")


class Desk:
    """The open job file with its saving thread; what the app is handed instead of a database."""

    def __init__(self, data_folder: Path, path: Path | None) -> None:
        self.data_folder = data_folder
        self.path = path
        self.saver: storage.Saver | None = None
        self.app: BenchApp | None = None
        self.notice = ""  # what the user must be told at the start
        self.reads = ""  # why the job is only read here
        self.record = Record()  # everything accepted, on disk or not yet; the ledger adds to it
        self.verifying: threading.Thread | None = None

    def open(self, path: Path) -> tuple[History, Record]:
        """Open a job; raises FileFault with the reason."""
        # Before it is opened: that may write to it, and it would be the newer one.
        newer = storage.newer_aside(path.absolute(), self.aside())
        reading = before_screen.Reading()
        try:
            file = storage.JobFile.open(path, _now()[:10], reading.tell)
        finally:
            reading.end()
        if newer is not None:
            self.notice = (
                f"{newer} is newer: it holds what could not be saved here; open that one if it counts"
            )
        if file.elsewhere:
            self.reads = "opened to read: this job is open elsewhere; close it there, then open it here again"
            self.notice = self.reads
        elif not file.writable():
            self.notice = f"{path} can be read but not written: nothing that is changed here will be saved"
        self._take(file)
        return file.history, file.record

    def aside(self) -> list[Path]:
        """Where a job goes whole when its own place takes no more, in this order."""
        return [self.data_folder / "jobs", Path(tempfile.gettempdir())]

    def start(self, name: str, units: str = "in", folder: str = "") -> tuple[History, Record]:
        """Start a job in a new file, in a folder that is made for it, or the usual one.

        Raises a Refusal, CannotSave where the file cannot be made, and nothing has been made then.
        """
        at = _now()
        edit = StartJob(
            name, started=at[:10], settings=starting.habits(units), section=starting.section(units)
        )
        edit.check(EMPTY.job)
        entry = Entry(EDIT, edit)
        if folder:
            path = storage.path_in(Path(os.path.expanduser(folder)).absolute(), name)
        else:
            path = self.path or storage.path_for(self.data_folder, name)
        file = storage.JobFile.create(path, entry, at)
        if not self._take(file) and self.app is not None:
            self.app.notice = f"next time: tenthmark {file.path} ({self.data_folder} cannot be written)"
        return file.history, file.record

    def _take(self, file: storage.JobFile) -> bool:
        """Save into this file from now on; whether the next start will know it."""
        self.path = file.path
        self.record = file.record
        self.saver = storage.Saver(file, self._done)
        self.saver.start()
        # The job itself is open; only the next start would have to be told its path.
        try:
            storage.remember_last(self.data_folder, file.path)
        except CannotSave:
            return False
        return True

    def verify(self) -> None:
        """Hold the whole record against its digests, in a thread of its own; says what is not as it was."""
        if self.path is not None:
            self.verifying = threading.Thread(
                target=self._verify, args=(self.path,), daemon=True, name="verify"
            )
            self.verifying.start()

    def wait(self) -> None:
        """Until nothing reads the file any more; once the app is left, that is soon."""
        if self.verifying is not None:
            self.verifying.join()

    def _verify(self, path: Path) -> None:
        try:
            storage.verify(path, lambda: self.app is not None, storage.PAUSE_S)
        except FileFault as fault:
            self._warn(fault.message)
        except Exception as unforeseen:
            self._warn(self.fault(unforeseen))

    def _warn(self, text: str) -> None:
        app = self.app  # it may be gone the next moment
        if app is not None:
            app.warn(text)

    def _done(self, entries: int, problem: str | None) -> None:
        app = self.app
        if app is not None:
            app.saved(entries, problem)

    def save(self, entry: Entry, at: str) -> None:
        """Queue an accepted entry for the disk."""
        assert self.saver is not None
        self.saver.save(entry, at)

    def fault(self, error: BaseException) -> str:
        """Put a fault of the program on file, and say so in a line."""
        log = library.user_data_folder() / "faults.log"
        where = ""
        try:
            log.parent.mkdir(parents=True, exist_ok=True)
            with log.open("a", encoding="utf-8") as out:
                out.write(f"{_now()} {''.join(traceback.format_exception(error))}\n")
            where = f"; details in {log}"
        except OSError:
            pass  # the line itself still says what happened
        from bench.core.naming import one_line

        said = one_line(f"{type(error).__name__}: {error}")
        return f"tenthmark: a fault of the program: {said}; what was accepted before it is being saved{where}"

    def close(self) -> bool:
        """Write what is queued; True if everything is on disk."""
        return self.saver is None or self.saver.finish()

    def write_aside(self, job: Job | None, *folders: Path) -> str:
        """The whole job in a new file in the first of some folders that takes it.

        Where the file is gone, and its earlier entries with it, what is in memory is written instead: the job
        as it stands, and the changes that are in no file.

        Args:
            job: as it stands; None where nobody knows it.
            folders: to try, in order.
        Returns:
            What was written where, in a line.
        Raises:
            CannotSave: no folder takes it.
        """
        assert self.path is not None
        stem = f"{self.path.stem}{storage.UNSAVED}"
        try:
            record = list(self.record)
        except FileFault:
            return self._write_remains(job, folders, stem)
        path = storage.write_aside(record, folders, stem)
        with contextlib.suppress(CannotSave):
            storage.remember_last(self.data_folder, path)
        return f"the whole job, with what could not be saved, is now in {path}; the next start opens that"

    def _write_remains(self, job: Job | None, folders: Sequence[Path], stem: str) -> str:
        from bench.core import parcels
        from bench.sheets import parcel_file, record_lines

        assert self.saver is not None
        saved = self.saver.entries
        unsaved = self.record[saved:]
        texts = {".jsonl": record_lines.write(unsaved, job.name if job else stem, saved)}
        if job is not None:
            texts[parcel_file.ENDING] = parcel_file.write(parcels.pack(job, _now()[:10]))
        lines, *parcel = storage.write_texts(texts, folders, stem)
        said = (
            f"{self.path} is gone, and can no longer be read: the changes after its entry {saved},"
            f" {len(unsaved)} in all, are written out in {lines}, to read"
        )
        if parcel:
            said += (
                f"; the job as it stands, without the settings of the shop, is in {parcel[0]}: start a new"
                " job and bring that in (Record, j), or: tenthmark bring NEW.tenthmark PARCEL"
            )
        return said


def _place(desk: Desk) -> str:
    """Where a new job goes, and which jobs are there already: the last one may have been moved away."""
    if desk.path is not None:
        return str(desk.path)
    folder = desk.data_folder / "jobs"
    names = sorted(path.name for path in folder.glob("*.tenthmark"))[:3] if folder.is_dir() else []
    there = f". There already: {', '.join(names)}; to open one: tenthmark FILE" if names else ""
    return f"{folder}{there}"


def run(path: Path | None) -> int:
    """Open the app on a job.

    Args:
        path: of the job file, made if it is not there; None opens the last job, or starts the first.
    Returns:
        Exit status.
    Raises:
        Refusal: no terminal, or a file that is not a job.
    """
    data = library.user_data_folder()
    last = storage.last_job(data) if path is None else None
    if last is None:
        return _run(Desk(data, path), path if path is not None and path.exists() else None)
    try:
        return _run(Desk(data, None), last)
    except FileFault as fault:
        raise Refusal(f"{fault.message}; or open another job: tenthmark FILE") from fault


def run_demo() -> int:
    """Open the invented job in a scratch copy that is gone afterwards.

    Returns:
        Exit status.
    Raises:
        Refusal: no terminal.
    """
    from bench.core.demo import entries

    # What is left of it where another thread still looks back in the record is the system's to take away.
    with tempfile.TemporaryDirectory(prefix="tenthmark-demo-", ignore_cleanup_errors=True) as folder:
        scratch = Path(folder)
        first, *rest = (Entry(EDIT, edit) for edit in entries(library.load().species))
        path = scratch / "demo.tenthmark"
        file = storage.JobFile.create(path, first, _now())
        file.append([(entry, _now()) for entry in rest])
        file.close()
        desk = Desk(scratch, path)
        try:
            return _run(desk, path)
        finally:
            desk.wait()  # else sqlite may put a file into the folder while that is taken away


def _preferences() -> tuple[KeyTable, Preferences, tuple[FileFault, ...]]:
    """The user's own keys and look, and what is wrong in their file."""
    path = library.user_data_folder() / library.SETTINGS_FILE
    read = library.load_settings(path)
    keys, wrong = KeyTable(BenchScreen.key_groups), dict[str, str]()
    if read.keys:  # else no screen need be read for them
        keys, wrong = checked(BenchScreen.key_groups(), read.keys)
    encoding = getattr(sys.__stderr__, "encoding", None) or ""
    preferences = Preferences(
        theme=read.theme,
        characters=read.characters,
        shows_boxes=shows_boxes(os.environ, sys.platform, encoding),
        typing=read.typing,
        keep=partial(library.keep_setting, path),
    )
    return keys, preferences, (*read.faults, *(read.key_fault(path, *fault) for fault in wrong.items()))


def _first(faults: Sequence[FileFault]) -> str:
    """What the user is told at the start of faults in the settings."""
    if not faults:
        return ""
    more = f" (and {len(faults) - 1} more: tenthmark keys lists them)" if faults[1:] else ""
    return f"{faults[0]}{more}"


def run_keys() -> int:
    """Print every action with its keys, and an example of the settings file.

    Returns:
        Exit status: 0, or 2 where the user's file has faults; they are named on standard error.
    """
    keys, _, faults = _preferences()
    path = library.user_data_folder() / library.SETTINGS_FILE
    print("\n".join(settings_page(keys, str(path))))
    for fault in faults:
        print(f"tenthmark: {fault}", file=sys.stderr)
    return 2 if faults else 0


def _woods_first(job: Job | None) -> set[str]:
    return {stick.species for stick in job.sticks[:1]} if job is not None else set()


def _run(desk: Desk, path: Path | None) -> int:
    fault = before_screen.fault()
    if fault:
        raise Refusal(fault)
    keys, preferences, faults = _preferences()
    opened = desk.open(path) if path is not None else None
    own = desk.data_folder / "species"
    # The first picture needs the wood of one stick; the other files are read behind it.
    shelf = library.load(own, only=_woods_first(opened[0].job if opened else None))

    def rest() -> tuple[dict[str, Species], dict[str, Source], list[str]]:
        whole = library.load(own)
        return whole.species, whole.sources, [str(fault) for fault in whole.faults]

    app = BenchApp(
        opened,
        shelf.species,
        desk.save,
        desk.start,
        rest=rest,
        notice=desk.notice or _first(faults),
        place=_place(desk),
        now=_now,
        fault=desk.fault,
        files=storage.TextFiles(),
        moves=SEARCH_MOVES,
        drawn=desk.verify,
        reads=desk.reads,
        keys=keys,
        preferences=preferences,
    )
    desk.app = app
    try:
        app.run(mouse=False)
    finally:
        desk.app = None
        all_saved = desk.close()
    if os.environ.get("TERM") == "linux":
        print("\x1b[H\x1b[J", end="")  # this console keeps the last picture
    if not all_saved:
        _save_aside(desk, app.bench.ledger.job if app.bench is not None else None)
        return 1
    return app.return_code or 0


def _save_aside(desk: Desk, job: Job | None = None) -> None:
    """Write the whole job where there is room for it, and say where; where there is none, ask for a place."""
    _tell(f"not everything accepted could be saved: {desk.saver.problem if desk.saver else ''}")
    folders = desk.aside()
    while folders:
        try:
            said = desk.write_aside(job, *folders)
        except Refusal as refusal:
            _tell(str(refusal))
            folders = _asked_for()
            continue
        _tell(said)
        return
    _tell("what was accepted since saving failed is lost")


def _asked_for() -> list[Path]:
    """A folder typed by the user; none where the user gives up, or cannot be asked."""
    if not sys.stdin.isatty():
        return []
    try:
        typed = input("A folder to write the whole job to (Enter: lose what is not saved): ").strip()
    except (EOFError, KeyboardInterrupt):
        return []
    return [Path(typed).expanduser().absolute()] if typed else []


def _tell(said: str) -> None:
    from bench.core.naming import one_line

    print(f"tenthmark: {one_line(said)}", file=sys.stderr)
