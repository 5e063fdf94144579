"""The verb `cuts` on a job: its sheets and its order as files, and nothing written over unasked."""

from fractions import Fraction
from pathlib import Path

import pytest
from core_cases import WOODS, demo, part

from bench.core import buying
from bench.core.edits import PutPart
from bench.core.edits_saw import PutOffer
from bench.core.records import Job, Offer, Typed, inches
from bench.core.river import flow
from bench.headless.cut_files import read_file
from bench.sheets import cut_sheet, kinds, labels
from tests.tools import saved_jobs
from tests.tools.saved_jobs import saved, shop

ask, nobody, run, tansy = saved_jobs.ask, saved_jobs.nobody, saved_jobs.run, saved_jobs.tansy


# --- files ---------------------------------------------------------------------------------------------


def test_sheets_are_those_of_the_app(tansy: Path, ask, run) -> None:
    river = flow(demo().job, WOODS)
    made = {
        "sheet.txt": kinds.written(cut_sheet.sheet(river, WOODS), "text"),
        "labels.txt": kinds.written(labels.sheet(river, WOODS), "text"),
        "page.html": kinds.written(cut_sheet.sheet(river, WOODS), "html"),
    }
    options = ("--sheet", "sheet.txt", "--labels", "labels.txt", "--page", "page.html")
    answer = ask(tansy, *options)
    assert answer["written"] == [str(Path(name).absolute()) for name in made]
    assert {name: Path(name).read_text(encoding="utf-8") for name in made} == made
    assert "page.html" in run(tansy, *options, "--replace")[1]


@pytest.mark.parametrize("option", ["--sheet", "--labels", "--page"])
def test_nothing_is_written_over_unasked(tansy: Path, refused, run, option: str) -> None:
    Path("mine.txt").write_text("mine", encoding="utf-8")
    others = [name for name in ("--sheet", "--labels", "--page") if name != option]
    line = refused(tansy, others[0], "one.txt", option, "mine.txt", others[1], "two.txt")
    assert line == f"{option}: mine.txt is there already; another name, or --replace, is wanted"
    assert Path("mine.txt").read_text(encoding="utf-8") == "mine"
    assert not Path("one.txt").exists() and not Path("two.txt").exists()
    assert run(tansy, option, "mine.txt", "--replace")[0] == 0
    assert "longeron fwd upper" in Path("mine.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--sheet", "a.txt", "--page", "./a.txt"], "--page: ./a.txt is the file of --sheet as well"),
        (["--sheet", "demo.tenthmark", "--replace"], "is named as a job is"),
        (["--page", "no/such/folder/a.html"], "--page: "),
        (["--labels", ""], "--labels: no name given"),
        (["--labels", "a.txt/"], "is a folder"),
        (["--sheet", "."], "--sheet: . is there already"),
        (["--sheet", ".", "--replace"], "cannot be written"),
        (["--replace"], "--replace: belongs to --sheet, --labels, --page"),
        (["--sheet"], "--sheet: has no value; the path of a file would be read"),
    ],
)
def test_files_that_cannot_be_written(tansy: Path, refused, words: list[str], says: str) -> None:
    before = tansy.read_bytes()
    assert says in refused(tansy, *words)
    assert tansy.read_bytes() == before


# --- what to buy ---------------------------------------------------------------------------------------


def _lacking() -> tuple[Path, Job]:
    offer = Offer(
        "ash 8 ft",
        "white_ash",
        inches("1"),
        inches("6"),
        inches("96"),
        Typed(Fraction(9), "9"),
    )
    return saved(shop(PutOffer(offer), parts=[PutPart(part("rib", "20", 9)), PutPart(part("boom", "99"))]))


def test_the_order_is_that_of_the_app(ask, run) -> None:
    path, job = _lacking()
    found = buying.order(flow(job, WOODS))
    order = ask(path, "--order")["order"]
    (wood,) = order["woods"]
    (bought,) = found.purchases
    assert (wood["species"], wood["pieces"], wood["given"]) == ("white_ash", 10, 9)
    assert wood["lines"] == [
        {
            "offer": "ash 8 ft",
            "needed": line.needed,
            "ordered": line.ordered,
            "board_feet": float(line.board_feet),
            "cost": float(line.cost or 0),
        }
        for line in bought.lines
    ]
    # By hand, common practice: 1 x 6 in x 8 ft / 12 is 4 board feet a plank, at 9 each.
    assert wood["board_feet"] == 4 * bought.lines[0].ordered and wood["cost"] == 9 * wood["board_feet"]
    (out,) = wood["not_given"]
    assert (out["name"], out["quantity"], out["short_in"]) == ("boom", 1, 3)
    assert [row["offer"] for row in order["offers"]] == ["ash 8 ft"]
    text = run(path, "--order", "--working")[1]
    assert "What to order" in text and "ash 8 ft" in text and "NOT GIVEN: 1 x boom" in text
    assert "rate = rejected / (rejected + accepted)" in text


def test_nothing_to_order(tansy: Path, ask, run) -> None:
    assert ask(tansy, "--order")["order"]["woods"] == []
    assert "Nothing to order" in run(tansy, "--order")[1]
    assert "order" not in ask(tansy)


def test_more_missing_than_is_laid_out(refused) -> None:
    path, _ = saved(shop(parts=[PutPart(part("rib", "20", 1001))]))
    line = refused(path, "--order")
    assert line.startswith("--order: ") and "1000 of one wood is the most" in line


# --- what is no job ------------------------------------------------------------------------------------


@pytest.mark.parametrize("option", ["--sheet", "--labels", "--page", "--parts"])
def test_a_list_has_no_sheets(refused, option: str) -> None:
    Path("plan.json").write_text("{}", encoding="utf-8")
    line = refused("plan.json", option, "file.txt")
    assert line == f"{option}: is for a job, and plan.json is a list; the file of a job is wanted"
    assert [path.name for path in Path().iterdir()] == ["plan.json"]


def test_a_list_has_no_order(refused) -> None:
    Path("plan.json").write_text("{}", encoding="utf-8")
    assert refused("plan.json", "--order").startswith("--order: is for a job")
    assert read_file(Path("plan.json")).parts == ()
