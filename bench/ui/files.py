"""Text files, as the screens see them: the app is handed something that reads and writes."""

from typing import Protocol

from bench.core.errors import FileFault


class Files(Protocol):
    """Reads and writes text files by the path as typed."""

    def read(self, path: str) -> str:
        """The text of a file; raises FileFault."""

    def write(self, path: str, text: str, replace: bool = False) -> str:
        """Write a file, the full path; raises Clash where it is there already, CannotSave."""


class NoFiles:
    """Stands in where no files were handed over."""

    def read(self, path: str) -> str:
        raise FileFault(path, "files are not to be had here")

    def write(self, path: str, text: str, replace: bool = False) -> str:
        raise FileFault(path, "files are not to be had here")
