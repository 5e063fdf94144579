"""What a verb answers, and how it is printed: a table to read, the working, or one JSON object."""

import json
import os
import shutil
import sys
from io import StringIO
from typing import Any

from bench.core.frozen import record
from bench.core.naming import one_line
from bench.core.steps import Step

PIPE_COLUMNS = 180  # width of a table that goes to a file or another program


@record
class Table:
    """Rows to print; the first column names what the others say."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@record
class Answer:
    """One result in every form it can be asked for."""

    data: dict[str, Any]  # keys and values of the JSON object, without the warnings
    tables: tuple[Table, ...]
    warnings: tuple[str, ...] = ()
    working: tuple[Step, ...] = ()


def show(answer: Answer, as_json: bool, working: bool, system: str) -> None:
    """Print an answer: the result on standard output, warnings there in JSON, else on standard error.

    Args:
        answer: of a verb.
        as_json: one JSON object instead of tables.
        working: the formulas as well.
        system: "in" or "mm".
    """
    lines = _working(answer, system) if working else ()
    if as_json:
        data = {**answer.data, "warnings": list(answer.warnings)}
        if working:
            data["working"] = list(lines)
        print(json.dumps(data, allow_nan=False, indent=2))
        return
    print(_drawn(answer.tables), end="")
    if lines:
        print("\n" + "\n".join(lines))
    sys.stdout.flush()
    for warning in answer.warnings:
        print(f"tenthmark: warning: {one_line(warning)}", file=sys.stderr)


def _working(answer: Answer, system: str) -> tuple[str, ...]:
    from bench.sheets import working

    return working.lines(answer.working, system)


def _drawn(tables: tuple[Table, ...]) -> str:
    from rich import box
    from rich.console import Console
    from rich.table import Table as Grid

    terminal = sys.stdout.isatty()
    encoding = (sys.stdout.encoding or "ascii").lower()
    page = StringIO()
    console = Console(
        file=page,
        width=shutil.get_terminal_size().columns if terminal else PIPE_COLUMNS,
        force_terminal=terminal and not os.environ.get("NO_COLOR"),
        markup=False,
        highlight=False,
        emoji=False,
    )
    for table in tables:
        grid = Grid(
            title=one_line(table.title),
            title_justify="left",
            title_style="bold",
            box=box.SIMPLE if encoding.startswith("utf") else box.ASCII2,
            show_edge=False,
            pad_edge=False,
        )
        for count, column in enumerate(table.columns):
            grid.add_column(column, overflow="fold", no_wrap=count == 0)
        for row in table.rows:
            grid.add_row(*(one_line(cell) for cell in row))
        console.print(grid)
    # rich pads lines to the width of the table; nobody wants to copy those blanks.
    return "".join(line.rstrip() + "\n" for line in page.getvalue().splitlines())
