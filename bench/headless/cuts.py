"""The verb `cuts`: a cut plan for the parts and sticks of a list in JSON, or the cuts of a job."""

from pathlib import Path

from bench.core import cutting, working
from bench.core.errors import OutOfRange, Refusal
from bench.headless import cut_rows
from bench.headless.answers import Answer
from bench.headless.arguments import Given, Option
from bench.headless.cut_files import read_file
from bench.headless.cut_list import laid_out, warnings
from bench.headless.job_files import is_job

MOST_MOVES = 1_000_000
FILE, A_FILE = "PLAN.json", "the path of a file"
OPTIONS = {
    "cuts": (
        Option(FILE, "name", "parts, sticks and the habits of the saw; or a job, which is only read",
               needed=True, wanted="the JSON file of a cut list, or a job,"),
        Option("--moves", "count", f"steps of the search, 0 to {MOST_MOVES:,}, four for a move among planks; "
               f"{cutting.MOVES:,} to {cutting.MOST:,} by the number of parts "
               "if not given, a job's layout is then as the app first shows it"),
        Option("--parts", "file", "of a job: more parts from a table (CSV), for this answer alone",
               wanted=A_FILE),
        Option("--order", "flag", "of a job: what to buy for the parts without a place"),
        Option("--sheet", "file", "of a job: write the cut sheet, as text", wanted=A_FILE),
        Option("--labels", "file", "of a job: write labels for sticks and pieces, as text", wanted=A_FILE),
        Option("--page", "file", "of a job: write a page with every stick drawn, as HTML", wanted=A_FILE),
        Option("--replace", "flag", "write over files that are there"),
    )
}  # fmt: skip
_OF_A_JOB = ("--parts", "--order", "--sheet", "--labels", "--page", "--replace")
_WRITTEN = ("--sheet", "--labels", "--page")


def _cuts(given: Given) -> Answer:
    path, moves = Path(given.text(FILE)), _moves(given)
    for option in (*_OF_A_JOB, "--units"):
        given.text(option)
    if given.has("--replace") and not any(map(given.has, _WRITTEN)):
        raise Refusal(f"--replace: belongs to {', '.join(_WRITTEN)}, and none is given", "--replace")
    if is_job(path):
        # Imported here: a list needs neither the library nor a database.
        from bench.headless import cut_job

        return cut_job.answer(path, given, moves)
    listed = read_file(path)
    for option in _OF_A_JOB:
        if given.has(option):
            raise Refusal(
                f"{option}: is for a job, and {path} is a list; the file of a job is wanted", option
            )
    cuts = laid_out(listed, moves)
    return Answer(
        cut_rows.data(cuts),
        cut_rows.tables(cuts, given.text("--units", "in")),
        (*warnings(listed), *cuts.warnings()),
        working.of_cuts(cuts.problem, cuts.plan, cuts.made),
    )


def _moves(given: Given) -> int | None:
    """How long to search; None where nothing is said."""
    if not given.has("--moves"):
        return None
    typed = given.value("--moves")
    with given.naming({"moves": "--moves"}):
        if typed.exact > MOST_MOVES:
            raise OutOfRange("moves", typed.si, f"0 to {MOST_MOVES:,} steps can be searched")
    return int(typed.exact)


ANSWERS = {"cuts": _cuts}
