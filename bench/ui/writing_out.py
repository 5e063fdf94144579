"""Writing a file that the user names; nothing is written over without a word."""

from collections.abc import Callable

from bench.core.errors import Clash, Refusal
from bench.sheets import kinds
from bench.ui.files import Files
from bench.ui.messages import Say
from bench.ui.typing_line import TypingWidget


class WritingOut(TypingWidget):
    """Base of what writes to files; it has been handed `files`."""

    files: Files

    def write_out(self, offered: str, text: str, done: str = "written") -> None:
        """Ask for a path, `offered` at first, and write the text there."""
        self.write_made(offered, lambda path: text, done)

    def write_made(
        self, offered: str, make: Callable[[str], str], done: str = "written", hint: str = "a path"
    ) -> None:
        """Ask for a path, `offered` at first, and write there what is made for that path."""
        self.ask_line("to file", hint, offered, lambda path: self._write(path, make(path), done))

    def _write(self, path: str, text: str, done: str, replace: bool = False) -> None:
        def again(said: str) -> None:
            if said.strip().lower() != "replace":
                raise Refusal("type replace to write over it, Esc leaves it as it is", "file", said)
            self._write(path, text, done, replace=True)

        try:
            where = self.files.write(path, text, replace)
        except Clash as clash:
            self.ask_line(f"{path} exists; type replace", str(clash), "", again)
        else:
            self.post_message(Say(f"{done} to {where}"))


# What sheets are made from; None while something is only tried, which no sheet shows.
Papers = Callable[[], kinds.Shelf | None]


class WritingSheets(WritingOut):
    """Base of what writes sheets; it has been handed `papers` too."""

    papers: Papers

    def write_sheet(self, kind: str, tag: str = "", done: str = "written") -> None:
        """Ask for a path, and write a sheet there in the format of its ending.

        Args:
            kind: of sheet.
            tag: of the stick, for a stick record.
            done: what is said when it is written.
        """
        shelf = self._shelf()
        if shelf is None:
            return

        def make(path: str) -> str:
            # A cut sheet's file may be named for the labels that go with it.
            wanted = kinds.LABELS if kind == kinds.CUTS and kinds.LABELS in path.lower() else kind
            return kinds.text_of(wanted, kinds.form_of(path), shelf, tag)

        more = {
            kinds.CUTS: f"; with {kinds.LABELS} in its name the labels",
            kinds.RECORD: "; .jsonl for the whole record, which can be read back",
        }
        hint = f"{kinds.FORMS}{more.get(kind, '')}"
        self.write_made(kinds.file_name(tag or shelf.river.job.name, kind), make, done, hint)

    def ask_sheet(self, tag: str) -> None:
        """Ask which sheet, then for a path.

        Args:
            tag: of the stick that a stick record is of; empty for none.
        """
        if self._shelf() is None:
            return
        names = [kind for kind in kinds.KINDS if kind != kinds.STICK or tag]
        hint = ", ".join(f"{name} {tag}" if name == kinds.STICK else name for name in names)

        def take(said: str) -> None:
            name, _, named = said.strip().partition(" ")
            kind = kinds.kind_of(name, names)
            self.write_sheet(kind, (named.strip() or tag) if kind == kinds.STICK else "")

        self.ask_line("which sheet", hint, kinds.BINDER, take)

    def _shelf(self) -> kinds.Shelf | None:
        shelf = self.papers()
        if shelf is None:
            said = "something is only tried: keep it or drop it first, a sheet shows what is kept"
            self.post_message(Say(said, wrong=True))
        return shelf
