"""Hostile texts to everything that reads one: a value or a refusal in one line, never anything else.

Good texts of each kind are mangled at random: control characters, half characters, writing directions, digits
of other scripts, numbers without end, brackets within brackets, formulas, repetition; or are random
altogether. Read are: lengths and every other quantity, sizes, spans, defects, blows; tables of stock, parts
and coupons; rows of the record and cut lists (JSON); the record and parcels (JSON Lines); species (TOML).
"""

import json
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from bench import units
from bench.core import parcels
from bench.core.errors import Refusal
from bench.core.history import Entry
from bench.headless import break_files, cut_files
from bench.library import load, shipped_folder
from bench.library.species import LARGEST
from bench.sheets import defects, parcel_file, parts_csv, record_lines, stock_csv
from bench.storage.rows import RecordLine, replay, to_entry, to_line
from bench.units.kinds import KINDS
from tests.torture import edits

LONGEST_S = 5.0  # for one text, of processor time
NASTY = (
    "\x00", "\x1b[31m", "\x1b]0;x\x07", "\r", "\n", "\t", "\u202e", "\u200b", "\ufeff", "\ud800",
    "\U0010ffff", "e\u0301\u0301\u0301", "٣", "½", "²", "９", "-", "--", "'", '"', '""', "\\", "\\u0000", ";",
    ",", "=1+1",
    "[bold]", "[/]", "<script>", "&amp;", "../../x", "%s%n", "{0}", "1e999999999", "1e-999999999", "nan",
    "@SUM(A1)", "inf", "-0", "1/0", "0/0", "9" * 5000, "9" * 400 + "/" + "7" * 400, "[" * 3000, "{" * 3000,
    "(" * 300, '{"a":' * 2000, "null", "true", "[]", "{}", "1:0", "'''", '"""', "[[figure]]", "a" * 20000,
    "\\N{BELL}", "__import__('os')",
)  # fmt: skip
QUANTITIES = (
    ("length", "3/4"), ("length", "1-1/8"), ("length", "34 3/8 in"), ("length", "2' 6\""),
    ("length", "10.3 mm"), ("mass", "13.4 g"), ("force", "120 lbf"), ("temperature", "20 C"),
    ("moisture", "9.5 %"), ("slope", "1:15"),
    ("rings", "12 per in"), ("mark", "6.85"), ("gravity", "0.56"), ("count", "12"), ("number", "-1.5e3"),
)  # fmt: skip
PART = {"name": "rib", "length": "12 3/8", "quantity": 3, "section": "3/4 x 3/4"}
STICK = {"tag": "A", "length": "96 in", "section": "3/4 x 1", "defects": [["3 in", "4 in"]], "quantity": 2}


def mangled(text: str, chance: random.Random) -> str:
    """A text with a few things wrong."""
    for _ in range(chance.choice([1, 1, 2, 5])):
        place = chance.randrange(len(text) + 1)
        kind = chance.randrange(7)
        if kind <= 2:
            text = text[:place] + chance.choice(NASTY) + text[place:]
        elif kind == 3:
            letter = chr(chance.randrange(chance.choice([0x80, 0x110000])))
            text = text[:place] + letter + text[place + 1 :]
        elif kind == 4:
            end = min(len(text), place + chance.randint(1, 40))
            text = text[:place] + text[end:]
        elif kind == 5:
            end = min(len(text), place + chance.randint(1, 40))
            text = text[:place] + text[place:end] * chance.choice([2, 3, 200]) + text[end:]
        else:
            text = "".join(chance.choice(text or " ") for _ in range(chance.randint(0, 60)))
    return text


class Doors:
    """Everything that reads text, each with good texts to be mangled."""

    def __init__(self, chance: random.Random, folder: Path) -> None:
        self.chance, self.folder, self.mangles = chance, folder, False
        self.woods = load().species
        record = edits.record(random.Random(chance.random()), 120)
        job = replay("job", [to_line(n, at, entry) for n, (at, entry) in enumerate(record, 1)])[0].job
        self.stock, self.parts = stock_csv.write(job.sticks[:6]), parts_csv.write(job.parts[:6])
        self.rows = [to_line(number, at, entry) for number, (at, entry) in enumerate(record, start=1)]
        self.list = json.dumps(
            {
                "kerf": "1/8",
                "parts": [
                    {
                        "name": "rib",
                        "length": "12 3/8",
                        "quantity": 3,
                        "section": "3/4 x 3/4",
                        "no_joint": [["1 in", "2 in"]],
                    }
                ],
                "sticks": [
                    {
                        "tag": "A",
                        "length": "96 in",
                        "section": "3/4 x 1",
                        "defects": [["3", "4"]],
                        "quantity": 2,
                    }
                ],
            }
        )
        self.lines = record_lines.write(record[:40], "Tansy")
        self.parcel = parcel_file.write(parcels.pack(job, edits.AT))
        self.species = [path.read_text(encoding="utf-8") for path in sorted(shipped_folder().glob("*.toml"))]
        self.all: dict[str, Callable[[], object]] = {
            "quantity": self.quantity,
            "size": lambda: units.size(self.bad("3/4 x 1 1/8 x 5 mm")),
            "spans": lambda: units.spans(self.bad("1 to 10, 12 to 26 in")),
            "defect": lambda: defects.read_all(self.bad("30-32 knot 1/4 edge 3/8; 40 check")),
            "blows": lambda: break_files.blows(self.bad("9, 10.5 in x 3, 12 crack")),
            "stock table": lambda: stock_csv.read(self.bad(self.stock), self.woods, ()),
            "parts table": lambda: parts_csv.read(self.bad(self.parts), self.woods, ()),
            "coupon table": lambda: break_files.coupons(
                self.file("group,value\nash,9.8 ksi\nash,10100 psi\n")
            ),
            "record row": self.row,
            "record lines": lambda: record_lines.read(self.bad(self.lines)),
            "parcel": lambda: parcel_file.read(self.bad(self.parcel)),
            "cut list": lambda: cut_files.read_file(self.file(self.list)),
            "species file": self.one_species,
        }

    def try_all(self) -> None:
        """Each reads its good texts: else it would refuse the mangled ones for nothing."""
        for read in self.all.values():
            for _ in range(20):
                read()
        self.mangles = True

    def bad(self, text: str) -> str:
        """A mangled text; as it is while the doors are tried."""
        return mangled(text, self.chance) if self.mangles else text

    def file(self, text: str) -> Path:
        """A file with a mangled text, sometimes of bytes that are none."""
        path = self.folder / "list"
        end = self.chance.choice([b"", b"", b"\xff"]) if self.mangles else b""
        path.write_bytes(self.bad(text).encode(errors="surrogatepass") + end)
        return path

    def quantity(self) -> object:
        kind, text = self.chance.choice(QUANTITIES)
        if self.mangles and self.chance.random() < 0.2:
            kind = self.chance.choice(sorted(KINDS))
        return units.read(kind, self.bad(text))

    def row(self) -> Entry:
        line = self.chance.choice(self.rows)
        return to_entry(RecordLine(line.number, line.at, line.what, line.kind, self.bad(line.body)))

    def one_species(self) -> object:
        own = self.folder / "species"
        own.mkdir(exist_ok=True)
        text = self.bad(self.chance.choice(self.species))
        (own / "white_ash.toml").write_bytes(text.encode(errors="surrogatepass")[: LARGEST * 2])
        return load(own)


def run(count: int, seed: int, folder: Path | None = None) -> int:
    """Read so many hostile texts; prints a summary.

    Returns:
        How many faults there were.
    """
    chance, came, wrong, slowest = random.Random(seed), Counter[str](), list[str](), (0.0, "")
    with tempfile.TemporaryDirectory(dir=folder) as name:
        doors = Doors(chance, Path(name))
        doors.try_all()
        for number in range(count):
            # A species file reads the whole shelf with it: it comes seldom.
            door = chance.choice([key for key in doors.all if key != "species file" or chance.random() < 0.1])
            begun = time.process_time()
            try:
                doors.all[door]()
                came[f"{door}: read"] += 1
            except Refusal as refusal:
                came[f"{door}: refused"] += 1
                if "\n" in str(refusal):
                    wrong.append(
                        f"text {number}, seed {seed}, {door}: refused in more than one line: {refusal}"
                    )
            except Exception as fault:
                wrong.append(
                    f"text {number}, seed {seed}, {door}: {type(fault).__name__}: {str(fault)[:200]!r}"
                )
            slowest = max(slowest, (time.process_time() - begun, door))
    if slowest[0] > LONGEST_S:
        wrong.append(f"{slowest[1]} took {slowest[0]:.1f} s")
    for line in wrong[:20]:
        print(ascii(line), file=sys.stderr)
    print(
        f"hostile: {count} texts, seed {seed}: "
        + ", ".join(f"{n} {what}" for what, n in sorted(came.items()))
    )
    print(f"hostile: slowest {slowest[0]:.2f} s ({slowest[1]}); {len(wrong)} faults")
    return len(wrong)
