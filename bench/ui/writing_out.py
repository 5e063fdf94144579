"""Writing a text file that the user names; nothing is written over without a word."""

from bench.core.errors import Clash, Refusal
from bench.ui.files import Files
from bench.ui.messages import Say
from bench.ui.typing_line import TypingWidget


class WritingOut(TypingWidget):
    """Base of what writes to files; it has been handed `files`."""

    files: Files

    def write_out(self, offered: str, text: str, done: str = "written") -> None:
        """Ask for a path, `offered` at first, and write the text there."""
        self.ask_line("to file", "a path", offered, lambda path: self._write(path, text, done))

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
