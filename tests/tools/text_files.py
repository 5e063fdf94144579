"""Text files of the user for tests of the screens, kept in a dictionary."""

from bench.core.errors import Clash, FileFault


class FakeFiles:
    """Stands in for text files: FakeFiles(parts_csv="part,length") holds parts.csv."""

    def __init__(self, **texts: str) -> None:
        self.texts = {name.replace("_", "."): text for name, text in texts.items()}

    def read(self, path: str) -> str:
        """What the file holds."""
        if path not in self.texts:
            raise FileFault(path, "there is no such file")
        return self.texts[path]

    def write(self, path: str, text: str, replace: bool = False) -> str:
        """Keep a text, never over another unasked."""
        if path in self.texts and not replace:
            raise Clash("file", path, "it is there already")
        self.texts[path] = text
        return f"/shop/{path}"
