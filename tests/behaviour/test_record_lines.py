"""The whole record as JSON Lines: read back entry for entry, and every bad line refused by its number."""

import json
from pathlib import Path

import pytest
from core_cases import WOODS

from bench.core.demo import entries
from bench.core.edits import ChangeSettings, NameJob, StartJob
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry
from bench.core.records import Settings, Typed
from bench.sheets import json_lines, record_lines

README = Path(__file__).resolve().parents[2] / "README.md"
AT = "2031-05-01T10:00:00"


def small() -> list[tuple[str, Entry]]:
    edits = [StartJob("Wing <&\u00e9\ud800>"), NameJob("Left"), NameJob("Right")]
    return [*((AT, Entry(EDIT, edit)) for edit in edits), (AT, Entry(UNDO)), (AT, Entry(REDO))]


def lines(record: list[tuple[str, Entry]] | None = None) -> list[str]:
    return record_lines.write(small() if record is None else record, "Wing").splitlines()


def faults(text: str) -> list[str]:
    found = record_lines.read(text)
    assert found.faults and found.record == () and found.history is EMPTY
    return [str(fault) for fault in found.faults]


# --- there and back ------------------------------------------------------------------------------------


def test_the_invented_job_comes_back_entry_for_entry() -> None:
    record = [(f"{AT}.{n}", Entry(EDIT, edit)) for n, edit in enumerate(entries(WOODS))]
    record += [(AT, Entry(UNDO)), (AT, Entry(UNDO)), (AT, Entry(REDO))]
    text = record_lines.write(record, "Tansy")
    assert text.isascii() and text.count("\n") == len(record) + 1
    found = record_lines.read(text)
    assert found.faults == () and list(found.record) == record
    history = EMPTY
    for _, entry in record:
        history = history.follow(entry)
    assert found.history.job == history.job and record_lines.write(found.record, "Tansy") == text


def test_half_a_character_blank_lines_and_line_ends_of_another_system_are_no_loss() -> None:
    text = "\ufeff" + "\r\n".join([*lines(), "", ""])
    assert list(record_lines.read(text).record) == small()


def test_the_example_of_the_readme_is_one() -> None:
    text = README.read_text(encoding="utf-8")
    start = text.index('{"form": "tenthmark record"')
    found = record_lines.read(text[start : text.index("```", start)])
    assert [entry.what for _, entry in found.record] == [EDIT, EDIT, UNDO]
    assert found.history.job.name == "Wing", "its renaming is undone"


# --- what is refused -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "bad", "why"),
    [
        (1, "{}", "this is no record of a job"),
        (1, '{"form": "tenthmark record", "version": 2, "entries": 5}', "it is of version 2"),
        (1, '{"form": "tenthmark record", "version": 1, "entries": true}', "entries: True is not possible"),
        (3, "no json", "it is no JSON"),
        (3, "[1]", "is no object"),
        (3, '{"number": 2, "at": NaN}', "NaN is no number"),
        (3, '{"number": 2, "number": 2}', "a key stands twice"),
        (3, '{"number": 2, "at": "x", "what": "edit", "kind": "Open", "edit": {}}', "'Open' is a change"),
        (
            3,
            '{"number": 2, "at": "x", "what": "edit", "kind": "NameJob", "edit": {"nam": ""}}',
            "not a field",
        ),
        (3, '{"number": 2, "at": "x", "what": "edit", "kind": "NameJob", "edit": {"name": ""}}', "name"),
        (3, '{"number": 2, "at": "x", "what": "edit", "kind": "NameJob", "edit": null}', "is not a NameJob"),
        (3, '{"number": 2, "at": "x", "what": "undo", "kind": "NameJob"}', "is damaged"),
        (3, '{"number": 2, "at": "x", "what": "redo"}', "no undone change is left"),
        (3, '{"number": 2, "at": "x", "what": "forget"}', "is damaged"),
        (3, '{"number": 7, "at": "x", "what": "undo"}', "7 stands where 2 is wanted"),
        (3, '{"number": 2.0, "at": "x", "what": "undo"}', "2.0 stands where 2 is wanted"),
        (3, '{"number": 2, "at": 5, "what": "undo"}', "at: 5 is no text"),
        (3, '{"number": 2, "at": "\\u001b[2J", "what": "undo"}', "is no time"),
        (3, '{"number": 2, "at": "x", "what": "undo", "run": "rm"}', "'run' is not known"),
        (2, '{"number": 1, "at": "x", "what": "edit", "kind": "NameJob", "edit": {"name": "a"}}', "StartJob"),
        (3, "[" * 100_000, "more than 16 deep"),
        (3, '{"a": ' * 60 + "1" + "}" * 60, "more than 16 deep"),
        (3, '{"number": ' + "9" * 10_000 + "}", "it is no JSON"),
        (3, "x" * (json_lines.LONGEST + 1), "it is longer than 4,000,000 characters"),
    ],
    ids=range(24),
)
def test_a_bad_line_is_refused_with_its_number_and_the_reason(line: int, bad: str, why: str) -> None:
    rows = lines()
    rows[line - 1] = bad
    first = faults("\n".join(rows))[0]
    assert first.startswith(f"line {line}: ") and why in first, first


def test_every_bad_line_is_told_up_to_a_number() -> None:
    rows = lines()
    rows[2] = rows[3] = "?"
    assert [fault.partition(":")[0] for fault in faults("\n".join(rows))] == ["line 3", "line 4"]
    many = "\n".join([rows[0], *["?"] * 100])
    assert len(faults(many)) == record_lines.SHOWN + 1 and "stopped here" in faults(many)[-1]


def test_brackets_within_text_are_not_deep() -> None:
    record = [(AT, Entry(EDIT, StartJob("[{" * 30 + '\\"[')))]
    assert list(record_lines.read("\n".join(lines(record)), checked=False).record) == record


@pytest.mark.parametrize("cut", [1, 10, 200])
def test_a_file_that_ends_early_is_refused(cut: int) -> None:
    text = "\n".join(lines())
    faults(text[:-cut])
    assert "announces 5" in faults("\n".join(lines()[:-1]))[0]
    assert faults("")[0].startswith("line 1: ")


def test_what_rules_of_today_refuse_is_taken_where_it_is_asked_for() -> None:
    huge = Settings(kerf=Typed(Settings().kerf.exact * 10_000, "1250 in"))
    record = [(AT, Entry(EDIT, StartJob("Wing"))), (AT, Entry(EDIT, ChangeSettings(huge)))]
    text = record_lines.write(record, "Wing")
    assert faults(text)[0].startswith("line 3: kerf")
    assert list(record_lines.read(text, checked=False).record) == record


def test_the_key_of_a_damaged_byte_never_passes_silently() -> None:
    """Every byte of a small record in turn: read as it was, as something else that is sound, or refused."""
    text = "\n".join(lines([(AT, Entry(EDIT, StartJob("Wing"))), (AT, Entry(UNDO))][:1]))
    for place in range(0, len(text), 3):
        found = record_lines.read(f"{text[:place]}\x00{text[place + 1 :]}")
        assert found.faults or json.loads(text.splitlines()[0])["entries"] == len(found.record)
