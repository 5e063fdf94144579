"""The verb `cuts` on a job: as the app lays it out, with parts of a table, and the job's file left alone."""

import hashlib
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from core_cases import WOODS, demo, part, stick
from cut_cases import DOUBTFUL, GOOD, INCH, plank

from bench.core import cutting, laying, sawing
from bench.core.edits import ChangeSettings, MarkCut, PutPart, PutStick, StartJob
from bench.core.edits_saw import LayOut, SpoilPiece
from bench.core.history import EDIT, Entry
from bench.core.records import CutMade, Settings, Spoilt, Typed
from bench.core.river import flow
from bench.headless.cut_job import SEED
from bench.headless.job_files import read
from bench.storage import JobFile
from tests.tools import saved_jobs
from tests.tools.plan_validator import faults
from tests.tools.saved_jobs import job_of, saved, shop

ask, nobody, run, tansy = saved_jobs.ask, saved_jobs.nobody, saved_jobs.run, saved_jobs.tansy


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


PIECES = 74  # that the invented job wants


# --- the layout ----------------------------------------------------------------------------------------


def test_the_invented_job_is_laid_out_as_the_app_does(tansy: Path, ask) -> None:
    river = flow(demo().job, WOODS)
    answer = ask(tansy)
    assert river.plan is not None and faults(river.problem, river.plan) == []
    assert _told(answer) == _planned(river.plan)
    made = len(river.job.cuts)
    assert 0 < made < PIECES
    assert (answer["pieces_made"], answer["placed"], answer["unplaced"]) == (made, PIECES - made, [])
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
    path, _ = saved(shop(PutStick(stick("A", GOOD)), parts=[PutPart(part("rib", "10"))]))
    file = JobFile.open(path)
    file.append([(Entry(EDIT, PutPart(part("cap", "12"))), "2031-05-02")])
    beside = Path(f"{path}-wal")
    before = path.read_bytes(), beside.read_bytes()
    assert before[1], "the change is in the side file alone"
    assert {cut[2] for cut in _told(ask(path))} == {"rib", "cap"}
    assert (path.read_bytes(), beside.read_bytes()) == before
    file.append([(Entry(EDIT, PutPart(part("web", "12"))), "2031-05-02")])
    file.close()
    assert read(path) == job_of(path)


def test_any_name_will_do_for_a_job(tansy: Path, ask) -> None:
    other = tansy.rename("job of the year.json")
    answer = ask(other)
    assert answer["placed"] == PIECES - answer["pieces_made"] > 0


def test_a_layout_being_sawn_stays(ask) -> None:
    edits = shop(
        PutStick(stick("A", GOOD)),
        PutStick(stick("B", GOOD)),
        parts=[PutPart(part("rib", "20", 5)), PutPart(part("cap", "35", 2))],
    )
    plan = flow(saved(edits, "first.tenthmark")[1], WOODS).plan
    assert plan is not None
    laid = tuple(reversed(sawing.laid_from(plan)))
    first, second = laid[0], laid[1]
    edits += [
        LayOut(laid),
        MarkCut(CutMade(first.part, first.stick, first.start, first.end)),
        SpoilPiece(Spoilt(second.part, second.stick, second.start, second.end)),
    ]
    path, job = saved(edits)
    river = flow(job, WOODS)
    answer = ask(path, "--moves", "50")
    assert _told(answer) == _planned(river.plan)
    left = sum(row["quantity"] for row in answer["unplaced"])
    assert (answer["pieces_made"], answer["placed"] + left) == (1, 6), "five and two, less the one cut"
    places = {(piece.part, piece.stick, float(piece.start / INCH)) for piece in laid[2:]}
    assert places <= {(name, tag, start) for tag, _, name, start, _ in _told(answer)}
    assert any("--moves" in text and "being sawn" in text for text in answer["warnings"])


def test_a_longer_search_is_that_of_the_app(ask) -> None:
    edits = shop(
        *(PutStick(stick(tag, GOOD)) for tag in "ABCD"),
        parts=[PutPart(part(f"p{n}", str(17 + 3 * n), 2)) for n in range(6)],
    )
    path, job = saved(edits)
    river = flow(job, WOODS)
    assert river.plan is not None
    longer = cutting.plan(river.problem, 900, SEED, [river.plan])
    assert faults(river.problem, longer) == []
    assert _told(ask(path, "--moves", "900")) == _planned(longer)
    assert _told(ask(path)) == _planned(river.plan)


def test_planks_of_a_job_are_ripped(ask, run) -> None:
    """By hand: an ash plank 5 by 1 in gives more than one strip of a part that is 3/4 in square."""
    path, job = saved(shop(PutStick(plank("P")), parts=[PutPart(part("rib", "20", 6))]))
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
    path, job = saved(shop(*(PutStick(stick(tag, GOOD)) for tag in "AB"), parts=[PutPart(long)]))
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
    edits = shop(
        PutStick(stick("H", DOUBTFUL)),
        parts=[PutPart(part("rib", "20"))],
        habits=replace(Settings(), use_held=True),
    )
    path, _ = saved(edits)
    answer = ask(path)
    assert [row.get("on_hold") for row in answer["sticks"]] == [True]
    assert "cut from sticks on hold: H" in answer["warnings"]
    assert "H (ON HOLD)" in run(path)[1]


def test_the_unit_of_the_tables_is_the_job_s(run) -> None:
    edits = shop(PutStick(stick("A", GOOD)), parts=[PutPart(part("rib", "20"))])
    inch, _ = saved(edits, "inch.tenthmark")
    metric, _ = saved([*edits, ChangeSettings(replace(Settings(), units="mm"))], "mm.tenthmark")
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
    assert answer["placed"] + answer["pieces_made"] + left == PIECES + 2
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
    path, _ = saved([StartJob("Bare")])
    answer = ask(path, "--order")
    assert (answer["placed"], answer["sticks"], answer["unplaced"]) == (0, [], [])
    assert run(path, "--sheet", "s.txt", "--labels", "l.txt", "--page", "p.html")[0] == 0
