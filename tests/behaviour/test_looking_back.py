"""The record read again: what each entry is about, what it changed, and a single thing taken from before."""

from dataclasses import replace

import pytest
from core_cases import WOODS, after, part, stick
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import differing, sifting, taking, tracing
from bench.core.concerning import ABOUT, KINDS, Turns, concern, concerns, turned
from bench.core.demo import entries
from bench.core.differing import Difference, differences
from bench.core.edits import (
    EDITS,
    ChangeSettings,
    ChooseSection,
    LayOut,
    NameJob,
    PutPart,
    PutStick,
    RemoveStick,
    StartJob,
)
from bench.core.errors import BadInput, Clash, FileFault, Refusal
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry, History
from bench.core.records import Job, inches
from bench.core.sifting import Wanted
from bench.sheets import differing as words
from bench.sheets.telling import told, told_record
from bench.ui.read_record import ReadRecord

DEMO = [Entry(EDIT, edit) for edit in entries(WOODS)]
RECORD = [("2026-03-14T10:05:00", entry) for entry in DEMO]


def jobs(record: list[Entry]) -> list[History]:
    """The history after each entry, from before the first."""
    histories = [EMPTY]
    for entry in record:
        histories.append(histories[-1].follow(entry))
    return histories


STATES = jobs(DEMO)


# --- what an entry is about --------------------------------------------------------------------------


def test_every_edit_is_about_something_the_record_can_be_searched_by() -> None:
    seen = {type(entry.edit).__name__: concern(entry.edit) for entry in DEMO if entry.edit is not None}
    assert set(ABOUT) == set(EDITS.values())
    assert all(set(about.kinds) <= set(KINDS) and about.kinds for about in seen.values())


def test_undoing_is_about_what_it_undoes() -> None:
    first, second = PutStick(stick("A-1")), PutPart(part("rib"))
    record = [
        Entry(EDIT, StartJob("Tansy")),
        Entry(EDIT, first),
        Entry(EDIT, second),
        Entry(UNDO),
        Entry(UNDO),
    ]
    record += [Entry(REDO)]
    found = concerns(record)
    assert found[3].parts == ("rib",) and found[3].kinds == ("undo", "part")
    assert found[4].sticks == ("A-1",) and found[5].kinds == ("redo", "stick")


def noted_as(read: ReadRecord, record: list[tuple[str, Entry]]) -> bool:
    """Whether all that was read is what reading the whole record in a row finds."""
    entries, places = [entry for _, entry in record], range(len(record))
    return (
        [read.said(place) for place in places] == told_record(entries)
        and [read.about(place) for place in places] == concerns(entries)
        and [read.at(place) for place in places] == [at for at, _ in record]
        and vars(read.notes) == vars(tracing.notes(record))
    )


def test_undoing_names_what_the_history_undoes_however_the_record_is_read() -> None:
    history = EMPTY
    record: list[tuple[str, Entry]] = []
    read = ReadRecord(record)
    rows = [
        Entry(EDIT, LayOut((), follows=True)),  # belongs to a change, and there is none
        Entry(EDIT, PutStick(stick("A-1"))),
        Entry(EDIT, PutPart(part("rib"))),
        Entry(EDIT, LayOut((), follows=True)),
        *(Entry(UNDO), Entry(REDO), Entry(UNDO), Entry(UNDO), Entry(REDO)),
        Entry(EDIT, NameJob("Other")),
        Entry(UNDO),
    ]
    for number, entry in enumerate(rows):
        before, history = history, history.follow(entry)
        record.append((f"2026-03-{number + 1:02d}", entry))
        assert read.note() == 0 and read.noted == len(read) == number + 1
        if entry.edit is None:
            lead, state = ("undone", before) if entry.what == UNDO else ("made again", history)
            assert read.said(number) == f"{lead}: {told(state.last_edit)}"
    assert noted_as(read, record)
    assert read.about(4).kinds == ("undo", "part", "layout")


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from((UNDO, REDO, "change", "belonging")), max_size=60))
def test_what_is_undone_is_found_from_any_entry_back(steps: list[str]) -> None:
    history, record, turns, expected = EMPTY, list[tuple[str, Entry]](), Turns(), list[tuple[int, ...]]()
    for step in ("change", *steps):
        edits = {"change": NameJob("Other"), "belonging": LayOut((), follows=True)}
        entry = Entry(EDIT, edits[step]) if step in edits else Entry(step)
        try:
            history = history.follow(entry)
        except Clash:
            continue  # nothing is left to be undone or made again
        record.append(("2026-03-14", entry))
        expected.append(turns.follow(entry))
    assert [turned(record, place) for place in range(len(record))] == expected


def test_undone_and_made_again_thousands_of_times_is_found_too() -> None:
    record = [("", Entry(EDIT, NameJob("Tansy"))), ("", Entry(EDIT, NameJob("Other")))]
    record += [("", Entry(UNDO)), ("", Entry(REDO))] * 2_000
    assert turned(record, len(record) - 1) == turned(record, len(record) - 2) == (1,)


class Counted(list[tuple[str, Entry]]):
    """A record that says which entries it was asked for, and may not be able to read one."""

    asked: list[int]
    bad = 100

    def __getitem__(self, place: int) -> tuple[str, Entry]:
        if place == self.bad:
            raise FileFault("x.tenthmark", "it cannot be read")
        self.asked.append(place)
        return super().__getitem__(place)


def test_a_fault_in_the_record_loses_nothing_of_its_notes() -> None:
    record = Counted(RECORD)
    record.asked = []
    read = ReadRecord(record)
    for _ in range(2):
        with pytest.raises(FileFault):
            read.note()
        assert read.noted == record.bad
    record.bad = -1
    assert read.note(10) == len(RECORD) - 110
    record += RECORD[-1:]
    while read.note(10):
        pass
    assert noted_as(read, list(record))


def test_an_entry_is_read_when_it_is_looked_at_and_not_before() -> None:
    record = Counted(RECORD)
    record.asked = []
    read = ReadRecord(record)
    assert len(read) == len(RECORD) and read.said(150) == told(DEMO[150].edit)
    assert set(record.asked) == {150}


# --- what is different -------------------------------------------------------------------------------


def test_a_change_is_told_from_what_to_what() -> None:
    before = after([StartJob("Tansy"), PutStick(stick("A-1", 6.5))])
    now = replace(before.stick("A-1"), tag="A-9", lot="new", length=inches("60"))
    found = differences(before, PutStick(now, was="A-1").change(before))
    assert {(one.name, one.field, words.value(one.before), words.value(one.after)) for one in found} == {
        ("A-9", "tag", "A-1", "A-9"),
        ("A-9", "lot", "--", "new"),
        ("A-9", "length", "72 in", "60 in"),
    }


def anew(job: Job) -> Job:
    """The same job, no stick and no part of it the same object."""
    sticks, parts = (tuple(replace(one) for one in row) for row in (job.sticks, job.parts))
    return replace(job, sticks=sticks, parts=parts)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_what_is_the_very_same_is_passed_over_and_nothing_else(data: st.DataObject) -> None:
    before = after([StartJob("Tansy"), *(PutStick(stick(f"A-{number}")) for number in range(6))])
    sticks = list(before.sticks)
    for _ in range(data.draw(st.integers(0, 4))):
        place = data.draw(st.integers(0, len(sticks)))
        what = data.draw(st.sampled_from(("in", "out", "tag", "lot", "moved")))
        if what == "in":
            sticks.insert(place, stick(f"N-{len(sticks)}-{place}"))
        elif place < len(sticks):
            old = sticks.pop(place)
            changed = {"tag": replace(old, tag=f"{old.tag}b"), "lot": replace(old, lot="new"), "moved": old}
            if what in changed:
                sticks.insert(0 if what == "moved" else place, changed[what])
    now = replace(before, sticks=tuple(sticks))
    assert differences(before, now) == differences(before, anew(now))
    assert differences(now, before) == differences(now, anew(before))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, len(STATES) - 1), st.integers(0, len(STATES) - 1))
def test_equal_jobs_differ_in_nothing_and_others_in_something(one: int, other: int) -> None:
    before, now = STATES[one].job, STATES[other].job
    found = differences(before, now)
    assert bool(found) == (before != now)
    assert all(words.line(difference) for difference in found)
    back = differences(now, before)
    assert {(d.kind, d.field, d.before) for d in found} == {(d.kind, d.field, d.after) for d in back}


def test_a_line_names_thing_field_and_both_values() -> None:
    assert words.line(Difference("stick", "A-1", "lot", "", "old")) == "stick A-1, lot: -- -> old"
    assert words.line(Difference("settings", "", "use_held", False, True)) == "shop, use held: no -> yes"


# --- taking one thing --------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(st.integers(1, len(STATES) - 1), st.integers(0, 200))
def test_a_thing_taken_is_as_it_was_and_nothing_else_moves(number: int, place: int) -> None:
    then, now = STATES[number].job, STATES[-1].job
    things = differing.things(then)
    kind, name, thing = things[place % len(things)]
    try:
        edit = taking.take(now, kind, name, thing)
        taken = edit.apply(now)
    except Clash as clash:
        assert "as it was then" in str(clash) or differing.standing(now)(kind, name, thing) is not None
        return
    except Refusal:
        return  # an edit like any other: the job may refuse it
    assert differing.standing(taken)(kind, name, thing) == thing
    assert {(one.kind, one.name) for one in differences(now, taken)} == {(kind, name)}


def test_a_stick_taken_out_long_ago_comes_back_with_its_readings() -> None:
    history = EMPTY
    for edit in (StartJob("Tansy"), PutStick(stick("A-1", 6.5)), RemoveStick("A-1"), NameJob("Other")):
        history = history.accept(edit)
    then = jobs([Entry(EDIT, edit) for _, edit in history.past])[2].job
    back = history.accept(taking.take(history.job, "stick", "A-1", then.stick("A-1")))
    assert back.job.stick("A-1") == then.stick("A-1") and back.job.name == "Other"
    with pytest.raises(Clash, match="as it was then"):
        taking.take(back.job, "stick", "A-1", then.stick("A-1"))


def test_section_and_shop_are_taken_as_a_whole() -> None:
    then, now = STATES[1].job, STATES[-1].job
    assert taking.take(now, "section", "", then.section) == ChooseSection(then.section)
    other = replace(then.settings, kerf=inches("1/4"))
    assert taking.take(now, "settings", "", other) == ChangeSettings(other)


# --- seeking -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("", Wanted()),
        ("stick A-07", Wanted(stick="A-07")),
        ("part rib stiffener nose, day 2026-03-14", Wanted(part="rib stiffener nose", day="2026-03-14")),
        ("kind Reading , day 2026-03-01..2026-04", Wanted(kind="reading", day="2026-03-01", until="2026-04")),
        ("day 2026-03", Wanted(day="2026-03")),
        ("knot, 1/8", Wanted(text="knot, 1/8")),
    ],
)  # fmt: skip
def test_what_is_wanted_is_read_and_written_alike(text: str, wanted: Wanted) -> None:
    assert sifting.read(text) == wanted
    assert sifting.read(wanted.write()) == wanted


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("stick", "says no stick"),
        ("stick A, stick B", "a second stick"),
        ("kind readings", "nearest: reading"),
        ("day 14.3.2026", "2026-03-14"),
        ("day 2026-13-01", "is no day"),
        ("day 2026-03-14..2026-03-01", "ends before it begins"),
    ],
)
def test_what_cannot_be_sought_is_refused_with_what_can(text: str, said: str) -> None:
    with pytest.raises((BadInput, Refusal), match=said):
        sifting.read(text)


def test_a_seeking_finds_exactly_the_entries_about_it() -> None:
    about, said = concerns(DEMO), told_record(DEMO)
    wanted = sifting.read("stick A-07, kind reading")
    found = [n for n, one in enumerate(about) if wanted.holds(one, RECORD[n][0], said[n])]
    assert len(found) == 2 and all("A-07 floats" in said[n] for n in found)
    day = sifting.read("day 2026-03..2026-04")
    assert all(day.holds(one, RECORD[n][0], said[n]) for n, one in enumerate(about))
    assert not sifting.read("day 2026-02").holds(about[0], RECORD[0][0], said[0])
