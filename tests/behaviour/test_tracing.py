"""The trace: from a part to its cuts, sticks, verdicts and section, and from a stick to its parts."""

from dataclasses import replace
from fractions import Fraction
from functools import reduce

from core_cases import WOODS

from bench.core import parcels, tracing
from bench.core.concerning import concern
from bench.core.demo import entries
from bench.core.edits import (
    ChooseSection,
    PutStick,
    StartJob,
)
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry
from bench.core.parcels import THEIRS, Decision
from bench.core.records import Defect, Typed
from bench.core.river import flow
from bench.sheets import tracing as trace_words

DEMO = [Entry(EDIT, edit) for edit in entries(WOODS)]
RECORD = [("2026-03-14T10:05:00", entry) for entry in DEMO]
JOB = reduce(lambda history, entry: history.follow(entry), DEMO, EMPTY).job
RIVER, NOTES = flow(JOB, WOODS), tracing.notes(RECORD)


def test_every_part_leads_to_its_sticks_and_every_stick_back_to_its_parts() -> None:
    made = {(cut.part, cut.stick) for cut in RIVER.job.cuts}
    laid = {(piece.part, plan.tag) for plan in RIVER.plan.sticks for piece in plan.pieces}
    found = set()
    for one in RIVER.job.parts:
        trace = tracing.of_part(one.name, RIVER, NOTES)
        assert {stick.tag for stick in trace.sticks} == {piece.stick for piece in trace.pieces}
        assert len(trace.pieces) + trace.missing == one.quantity
        found |= {(one.name, piece.stick) for piece in trace.pieces}
    assert found == made | laid
    back = set()
    for judged in RIVER.rack:
        trace = tracing.of_stick(judged.stick.tag, RIVER, NOTES)
        back |= {(piece.part, judged.stick.tag) for piece in trace.pieces}
    assert back == found


def test_a_trace_names_the_entry_that_accepted_each_thing() -> None:
    cut = RIVER.job.cuts[0]
    trace = tracing.of_part(cut.part, RIVER, NOTES)
    for piece in trace.pieces:
        if piece.cut is not None:
            assert DEMO[piece.noted.number - 1].edit.cut == piece.cut
    for noted in trace.noted:
        assert cut.part in concern(DEMO[noted.number - 1].edit).parts
    section = DEMO[NOTES.section.number - 1].edit
    assert isinstance(section, ChooseSection)
    assert {DEMO[one.number - 1].edit.subject for one in NOTES.sticks["A-07"]} >= {"reading A-07"}


def test_a_trace_says_verdict_limit_source_price_and_coupons() -> None:
    cut = next(cut for cut in RIVER.job.cuts if RIVER.job.part(cut.part).species == "sitka_spruce")
    rows = trace_words.of_part(tracing.of_part(cut.part, RIVER, NOTES), RIVER, WOODS)
    text = "\n".join(row.text for row in rows)
    assert "match: weaker in nothing known" in text
    assert "limit 1:15 (anc19 sec. 2.4100)" in text and "oven-dry" in text
    assert f"from {cut.stick}" in text and "coupon E-01, bend test" in text
    assert "approv" in text, "the caution stands with the section"
    assert {row.target for row in rows if row.target} >= {("stick", cut.stick)}
    assert tracing.of_part("no such part", RIVER, NOTES) is None


def test_a_defect_found_in_a_piece_that_is_cut_bars_it() -> None:
    wide = Fraction(1, 200)
    cut = next(
        cut  # with nothing of the same part beside it
        for cut in RIVER.job.cuts
        if cut.end + wide <= RIVER.job.stick(cut.stick).length.exact
        and not any(
            other.stick == cut.stick and other.part == cut.part and 0 <= other.start - cut.end <= wide
            for other in RIVER.job.cuts
        )
    )
    before = RIVER.job.stick(cut.stick)
    middle = (cut.start + cut.end) / 2
    inside, beside = (
        Defect(Typed(at, f"{at} m"), Typed(at + wide, f"{at} m"), "knot") for at in (middle, cut.end)
    )
    for defect, barred in ((inside, True), (beside, False), (replace(inside, kind="sapwood"), False)):
        stick = replace(before, defects=(defect,))
        river = flow(PutStick(stick, was=cut.stick).apply(RIVER.job), WOODS)
        judged = river.judged(cut.stick)
        assert judged.words["small_part"] == "accept", "the stick itself is good: it can be cut round"
        assert (cut in river.doubtful) == barred
        rows = trace_words.of_part(tracing.of_part(cut.part, river, NOTES), river, WOODS)
        text = "\n".join(row.text for row in rows)
        assert ("NOT ACCEPTED NOW, in it lies" in text) == barred


def test_an_undone_choice_of_section_gives_way_to_the_one_before_it() -> None:
    first, second = (
        ChooseSection(RIVER.job.section),
        ChooseSection(replace(RIVER.job.section, match="weight")),
    )
    record = [("2026-03-14", Entry(EDIT, edit)) for edit in (StartJob("Tansy"), first, second)]
    assert tracing.notes(record).section.number == 3
    record.append(("2026-03-15", Entry(UNDO)))
    assert tracing.notes(record).section.number == 2
    record.append(("2026-03-16", Entry(REDO)))
    assert tracing.notes(record).section.number == 3


def test_what_a_parcel_brought_is_noted_as_that_entry() -> None:
    edit = parcels.bring(
        EMPTY.job, parcels.pack(RIVER.job, "2026-03-14"), {("section", ""): Decision(THEIRS)}
    )
    noted = tracing.notes([("2026-03-14", Entry(EDIT, StartJob("Tansy"))), ("2026-03-15", Entry(EDIT, edit))])
    assert noted.section.number == 2
    assert {noted.cuts[cut].number for cut in RIVER.job.cuts} == {2}
    assert {one.number for one in noted.sticks["A-07"]} == {2}
