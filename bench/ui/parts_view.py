"""The Parts screen: the drawing's list, and as a table from and to a file."""

from textual.binding import Binding

from bench.core.edits import Edit, PutParts
from bench.core.records import Part, Species
from bench.sheets import parts_csv
from bench.sheets.tracing import PART
from bench.ui.files import Files, NoFiles
from bench.ui.parts_rows import PartsRows
from bench.ui.table_list import Found


class PartsView(PartsRows):
    """The parts, one by one, taken from a file or written to one."""

    OFFERED = "parts.csv"

    BINDINGS = [
        Binding("x", "to_file", "To file", id="parts.to-file", tooltip="Every part into a table (CSV)"),
        Binding("j", "from_file", "From file", id="parts.from-file", tooltip="Parts from a table (CSV)"),
    ]

    def __init__(self, woods: dict[str, Species], files: Files | None = None) -> None:
        super().__init__(woods, files or NoFiles())

    def traced(self) -> tuple[str, str] | None:
        return (PART, self.here) if self.listed else super().traced()

    def table(self) -> tuple[str, int]:
        parts = self.accepted.parts
        return parts_csv.write(parts), len(parts)

    def found(self, text: str) -> Found[Part]:
        job = self.accepted
        sheet = parts_csv.read(text, self.woods, self.taken(job), self.system, job.section.plan)
        names = tuple(part.name for part in sheet.parts)
        return Found(sheet.parts, names, tuple(str(fault) for fault in sheet.faults))

    def put_all(self, records: tuple[Part, ...]) -> Edit:
        return PutParts(records)
