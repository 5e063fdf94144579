"""The verb `cuts` on a job: as the app lays it out, its sheets as files, and the job's file left alone."""

import hashlib
import json
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from core_cases import WOODS, ash_for_spruce, demo, part, stick
from cut_cases import DOUBTFUL, GOOD, INCH, plank

from bench.__main__ import main
from bench.core import buying, cutting, laying, sawing
from bench.core.demo import entries
from bench.core.edits import ChangeSettings, ChooseSection, Edit, MarkCut, PutPart, PutStick, StartJob
from bench.core.edits_saw import LayOut, PutOffer, SpoilPiece
from bench.core.history import EDIT, Entry
from bench.core.records import CutMade, Job, Offer, Settings, Spoilt, Typed, inches
from bench.core.river import flow
from bench.headless.cut_files import read_file
from bench.headless.cut_job import SEED
from bench.headless.job_files import read
from bench.sheets import cut_sheet, kinds, labels
from bench.storage import JobFile
from tests.tools.plan_validator import faults

KEYS = {
    *("placed", "unplaced", "unplaced_critical", "sticks_used", "sticks_opened", "fewest_possible"),
    *("optimal", "largest_offcut_in", "waste_percent", "pieces_made", "scarfed", "sticks", "warnings"),
}


@pytest.fixture(autouse=True)
def nobody(home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A data folder of nobody, and a folder to write into."""
    (tmp_path / "shop").mkdir()
    monkeypatch.chdir(tmp_path / "shop")


def _saved(edits: Iterable[Edit], name: str = "job.tenthmark") -> tuple[Path, Job]:
    """A job in a file, closed again."""
    first, *rest = (Entry(EDIT, edit) for edit in edits)
    file = JobFile.create(Path(name), first, "2031-05-01T08:00:00")
    file.append([(entry, "2031-05-01T09:00:00") for entry in rest])
    file.close()
    return Path(name), _job(Path(name))


def _job(path: Path) -> Job:
    file = JobFile.open(path)
    file.close()
    return file.history.job


def _shop(*more: Edit, parts: Iterable[Edit] = (), habits: Settings | None = None) -> list[Edit]:
    """An invented job of ash."""
    return [
        StartJob("Tansy"),
        ChooseSection(ash_for_spruce()),
        ChangeSettings(habits or Settings()),
        *parts,
        *more,
    ]


@pytest.fixture
def tansy() -> Path:
    return _saved(entries(WOODS), "demo.tenthmark")[0]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]):
    """Exit status, standard output and standard error of `cuts` with these words."""

    def command(*words: object) -> tuple[int, str, str]:
        status = main(["cuts", *map(str, words)])
        out, err = capsys.readouterr()
        return status, out, err

    return command


@pytest.fixture
def ask(run):
    """The JSON answer."""

    def answer(*words: object) -> dict:
        status, out, err = run(*words, "--json")
        assert (status, err) == (0, "")
        found = json.loads(out)
        assert found.keys() >= KEYS
        return found

    return answer


def _told(answer: dict) -> list[tuple]:
    return [
        (row["tag"], row.get("strip", 0), cut["part"], cut["from_in"], cut["to_in"])
        for row in answer["sticks"]
        for cut in row["cuts"]
    ]


def _planned(plan: cutting.CutPlan | None) -> list[tuple]:
    assert plan is not None
    return [
        (row.tag, row.strip, piece.part, float(piece.start / INCH), float(piece.end / INCH))
        for row in plan.sticks
        for piece in row.pieces
    ]


# --- the layout ----------------------------------------------------------------------------------------


def test_the_invented_job_is_laid_out_as_the_app_does(tansy: Path, ask) -> None:
    river = flow(demo().job, WOODS)
    answer = ask(tansy)
    assert river.plan is not None and faults(river.problem, river.plan) == []
    assert _told(answer) == _planned(river.plan) and len(_told(answer)) == 37
    assert (answer["pieces_made"], answer["placed"], answer["unplaced"]) == (37, 37, [])
    assert (answer["sticks_opened"], answer["fewest_possible"]) == (
        river.plan.sticks_opened,
        river.plan.fewest_possible,
    )
    assert answer["warnings"] == ["INVENTED: nothing here was measured"]


def test_the_file_and_its_folder_are_left_alone(tansy: Path, run) -> None:
    before = hashlib.sha256(tansy.read_bytes()).hexdigest()
    tansy.chmod(0o444)
    for words in ([], ["--json"], ["--moves", "5", "--order", "--working"]):
        assert run(tansy, *words)[0] == 0
    assert hashlib.sha256(tansy.read_bytes()).hexdigest() == before
    assert [path.name for path in Path().iterdir()] == [tansy.name]


def test_a_job_that_is_open_is_read_with_its_last_change(ask) -> None:
    """What an open app has accepted stands in a side file; that is read too, and left as it is."""
    path, _ = _saved(_shop(PutStick(stick("A", GOOD)), parts=[PutPart(part("rib", "10"))]))
    file = JobFile.open(path)
    file.append([(Entry(EDIT, PutPart(part("cap", "12"))), "2031-05-02")])
    beside = Path(f"{path}-wal")
    before = path.read_bytes(), beside.read_bytes()
    assert before[1], "the change is in the side file alone"
    assert {cut[2] for cut in _told(ask(path))} == {"rib", "cap"}
    assert (path.read_bytes(), beside.read_bytes()) == before
    file.append([(Entry(EDIT, PutPart(part("web", "12"))), "2031-05-02")])
    file.close()
    assert read(path) == _job(path)


def test_any_name_will_do_for_a_job(tansy: Path, ask) -> None:
    other = tansy.rename("job of the year.json")
    assert ask(other)["placed"] == 37


def test_a_layout_being_sawn_stays(ask) -> None:
    edits = _shop(
        PutStick(stick("A", GOOD)),
        PutStick(stick("B", GOOD)),
        parts=[PutPart(part("rib", "20", 5)), PutPart(part("cap", "35", 2))],
    )
    plan = flow(_saved(edits, "first.tenthmark")[1], WOODS).plan
    assert plan is not None
    laid = tuple(reversed(sawing.laid_from(plan)))
    first, second = laid[0], laid[1]
    edits += [
        LayOut(laid),
        MarkCut(CutMade(first.part, first.stick, first.start, first.end)),
        SpoilPiece(Spoilt(second.part, second.stick, second.start, second.end)),
    ]
    path, job = _saved(edits)
    river = flow(job, WOODS)
    answer = ask(path, "--moves", "50")
    assert _told(answer) == _planned(river.plan)
    left = sum(row["quantity"] for row in answer["unplaced"])
    assert (answer["pieces_made"], answer["placed"] + left) == (1, 6), "five and two, less the one cut"
    places = {(piece.part, piece.stick, float(piece.start / INCH)) for piece in laid[2:]}
    assert places <= {(name, tag, start) for tag, _, name, start, _ in _told(answer)}
    assert any("--moves" in text and "being sawn" in text for text in answer["warnings"])


def test_a_longer_search_is_that_of_the_app(ask) -> None:
    edits = _shop(
        *(PutStick(stick(tag, GOOD)) for tag in "ABCD"),
        parts=[PutPart(part(f"p{n}", str(17 + 3 * n), 2)) for n in range(6)],
    )
    path, job = _saved(edits)
    river = flow(job, WOODS)
    assert river.plan is not None
    longer = cutting.plan(river.problem, 900, SEED, [river.plan])
    assert faults(river.problem, longer) == []
    assert _told(ask(path, "--moves", "900")) == _planned(longer)
    assert _told(ask(path)) == _planned(river.plan)


def test_planks_of_a_job_are_ripped(ask, run) -> None:
    """By hand: an ash plank 5 by 1 in gives more than one strip of a part that is 3/4 in square."""
    path, job = _saved(_shop(PutStick(plank("P")), parts=[PutPart(part("rib", "20", 6))]))
    river = flow(job, WOODS)
    answer = ask(path)
    assert faults(river.problem, river.plan) == []
    assert _told(answer) == _planned(river.plan)
    rows = [row for row in answer["sticks"] if row["tag"] == "P"]
    assert [row["strip"] for row in rows] == list(range(1, len(rows) + 1)) and len(rows) > 1
    assert all(row["fence_in"] < 1 for row in rows)
    assert "P strip 1, fence" in run(path)[1]


def test_parts_are_scarfed_as_in_the_app(ask, run) -> None:
    long = replace(part("cap", "120"), scarf=Typed(Fraction(1, 12), "1:12"))
    path, job = _saved(_shop(*(PutStick(stick(tag, GOOD)) for tag in "AB"), parts=[PutPart(long)]))
    river = flow(job, WOODS)
    _, plan, scarfed = laying.with_scarfs(river.problem, river.plan, river.parts, job)
    answer = ask(path)
    (told,) = answer["scarfed"]
    assert told["part"] == "cap" and len(scarfed) == 1
    lengths = {row["name"]: row["length_in"] for row in told["lengths"]}
    assert lengths == {one.name: float(one.length.exact / INCH) for one in scarfed[0].lengths}
    assert sum(lengths.values()) == pytest.approx(120 + told["overlap_in"] * (len(lengths) - 1), abs=1e-9)
    assert sorted(_told(answer)) == sorted(_planned(plan))
    assert run(path, "--sheet", "sheet.txt")[0] == 0
    assert "cap a" in Path("sheet.txt").read_text(encoding="utf-8")


def test_sticks_on_hold_are_marked(ask, run) -> None:
    edits = _shop(
        PutStick(stick("H", DOUBTFUL)),
        parts=[PutPart(part("rib", "20"))],
        habits=replace(Settings(), use_held=True),
    )
    path, _ = _saved(edits)
    answer = ask(path)
    assert [row.get("on_hold") for row in answer["sticks"]] == [True]
    assert "cut from sticks on hold: H" in answer["warnings"]
    assert "H (ON HOLD)" in run(path)[1]


def test_the_unit_of_the_tables_is_the_job_s(run) -> None:
    edits = _shop(PutStick(stick("A", GOOD)), parts=[PutPart(part("rib", "20"))])
    inch, _ = _saved(edits, "inch.tenthmark")
    metric, _ = _saved([*edits, ChangeSettings(replace(Settings(), units="mm"))], "mm.tenthmark")
    assert "508.00 mm" not in run(inch)[1] and "508.00 mm" in run(metric)[1]
    assert "508.00 mm" in run(inch, "--units", "mm")[1] and "20 in" in run(metric, "--units", "in")[1]


# --- more parts for this answer ------------------------------------------------------------------------


def test_parts_of_a_table_are_laid_out_and_not_saved(tansy: Path, ask) -> None:
    before = tansy.read_bytes()
    Path("more.csv").write_text("part,pieces,length,width,depth\nstrut,2,30,5/8,5/8\n", encoding="utf-8")
    answer = ask(tansy, "--parts", "more.csv")
    found = [cut for cut in _told(answer) if cut[2] == "strut"]
    left = sum(row["quantity"] for row in answer["unplaced"] if row["name"] == "strut")
    assert len(found) + left == 2
    assert answer["placed"] + left == 39
    assert tansy.read_bytes() == before


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (None, "more.csv: cannot be read"),
        ("part,pieces\nstrut,2\n", "length"),
        ("part,length,width,depth\nstrut,long,1,1\n", "more.csv, line 2, length: "),
        ("part,length,width,depth\nupright 1,20,1,1\n", "the job has it"),
        ("part,length,width,depth\na,x,1,1\nb,1,y,1\n", "(and 1 more fault)"),
        ("part,length,width,depth\na,x,1,1\nb,1,y,1\nc,z,1,1\n", "(and 2 more faults)"),
    ],
)
def test_a_table_of_parts_with_a_fault(tansy: Path, refused, text: str | None, says: str) -> None:
    if text is not None:
        Path("more.csv").write_text(text, encoding="utf-8")
    line = refused(tansy, "--parts", "more.csv", "--sheet", "sheet.txt")
    assert line.startswith("--parts: ") and says in line
    assert not Path("sheet.txt").exists()


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
    return _saved(_shop(PutOffer(offer), parts=[PutPart(part("rib", "20", 9)), PutPart(part("boom", "99"))]))


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
    path, _ = _saved(_shop(parts=[PutPart(part("rib", "20", 1001))]))
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


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, "there is no such file; a job made by tenthmark is wanted"),
        (b"", "is empty"),
        (b"{}", "is not a job of this program"),
        (b"SQLite format 3\x00" + b"x" * 200, "x.tenthmark: "),
    ],
)
def test_a_file_that_is_no_job(refused, content: bytes | None, says: str) -> None:
    path = Path("x.tenthmark")
    if content is not None:
        path.write_bytes(content)
    line = refused(path)
    assert line.startswith("x.tenthmark: ") and says in line
    assert "/tmp" not in line.replace(str(Path.cwd()), "")
    assert content is None or path.read_bytes() == content


def test_a_folder_is_no_job(refused) -> None:
    Path("x.tenthmark").mkdir()
    assert "is no plain file" in refused("x.tenthmark")


def test_a_job_without_parts_or_sticks(ask, run) -> None:
    path, _ = _saved([StartJob("Bare")])
    answer = ask(path, "--order")
    assert (answer["placed"], answer["sticks"], answer["unplaced"]) == (0, [], [])
    assert run(path, "--sheet", "s.txt", "--labels", "l.txt", "--page", "p.html")[0] == 0
