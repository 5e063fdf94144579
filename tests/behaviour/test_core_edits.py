"""Every edit: what it does to the job, and that the same edits give the same job."""

from dataclasses import fields, replace
from typing import Any

import pytest
from core_cases import ash_for_spruce, demo, part, reading, stick, typed

from bench.core.edits import (
    ChangeSettings,
    ChooseSection,
    Inspect,
    LookOver,
    PutPart,
    PutStick,
    PutSticks,
    ReadAir,
    RemoveCoupon,
    RemovePart,
    RemoveStick,
    SetAside,
    StartJob,
    TakeOvenTest,
    TakeReading,
    TakeWeighing,
)
from bench.core.errors import Clash
from bench.core.history import EMPTY
from bench.core.records import CutMade, Defect, Job, OvenTest, Settings, ShopAir, inches
from tests.tools.edit_cases import INCH, JOB, cut, weighing, with_defect


def test_start() -> None:
    habits = replace(Settings(), units="mm")
    job = StartJob("  Tansy  ", "2026-03-12", True, habits).apply(EMPTY.job)
    assert job == Job("Tansy", "2026-03-12", True, habits)


def test_stick_comes_changes_and_goes() -> None:
    job = PutStick(stick("C")).apply(JOB)
    assert [s.tag for s in job.sticks] == ["A", "B", "C"]
    renamed = PutStick(stick("D", length="60"), was="B").apply(job)
    assert [s.tag for s in renamed.sticks] == ["A", "D", "C"]
    assert renamed.sticks[1].length == inches("60")
    assert renamed.coupon("D-1").stick == "D", "what was cut from it goes with its name"
    bare = RemoveCoupon("D-1").apply(renamed)
    assert [s.tag for s in RemoveStick("D").apply(bare).sticks] == ["A", "C"]


def test_stick_keeps_its_own_name_in_other_letters() -> None:
    assert PutStick(stick("b"), was="B").apply(JOB).sticks[1].tag == "b"


def test_reading_is_added_and_moisture_follows() -> None:
    taken = TakeReading("A", reading(7.0, moisture="0.09")).apply(JOB)
    found = taken.stick("A")
    assert found is not None and found.reading is not None
    assert [r.marks for r in found.readings] == [(6.8,), (7.0,)]
    assert found.moisture == found.reading.moisture == typed("0.09")
    assert taken.sticks[1] is JOB.sticks[1]


def test_a_list_comes_in_whole() -> None:
    job = PutSticks((stick("C"), stick("D"))).apply(JOB)
    assert [s.tag for s in job.sticks] == ["A", "B", "C", "D"]


def test_a_reading_set_aside_stays_and_may_count_again() -> None:
    job = TakeReading("A", reading(7.0, taken="2031-05-02")).apply(JOB)
    aside = SetAside("A", 1, " slipped in the tube ").apply(job)
    found = aside.stick("A")
    assert found is not None
    assert [r.aside for r in found.readings] == ["", "slipped in the tube"]
    assert [r.marks for r in found.counted] == [(6.8,)] and found.reading == found.readings[0]
    assert SetAside("A", 1, "").apply(aside) == job
    with pytest.raises(Clash, match="set aside already"):
        SetAside("A", 1, "again").apply(aside)


def test_one_reading_a_day_counts_the_last() -> None:
    days = ["2031-05-02", "2031-05-02", "2031-05-03", "", ""]
    job = JOB
    for place, day in enumerate(days):
        job = TakeReading("B", reading(6.0 + place / 10, taken=day)).apply(job)
    found = job.stick("B")
    assert found is not None and len(found.readings) == 5
    assert [r.marks[0] for r in found.counted] == pytest.approx([6.1, 6.2, 6.3, 6.4])
    assert found.reading is found.readings[-1]


def test_each_measurement_touches_nothing_else() -> None:
    before = JOB.sticks[0]
    job = Inspect("A", "rings", typed("400")).apply(Inspect("A", "bow", inches("1/16")).apply(JOB))
    seen = job.sticks[0].inspection
    assert seen == replace(before.inspection, rings=typed("400"), bow=inches("1/16"))
    assert replace(job.sticks[0], inspection=before.inspection) == before
    assert Inspect("A", "rings", None).apply(job).sticks[0].inspection.rings is None
    assert not LookOver("A", False).apply(job).sticks[0].inspection.looked
    assert ReadAir(ShopAir(typed("293.15"), typed("0.5"))).apply(JOB).air.humidity == typed("0.5")


def test_weighing_is_added_and_drying_gives_the_moisture() -> None:
    job = TakeWeighing("A", weighing("0.0081")).apply(JOB)
    assert len(job.sticks[0].weighings) == 1 and job.sticks[0].moisture == JOB.sticks[0].moisture
    dried = TakeOvenTest("A", OvenTest(typed("0.0483"), typed("0.0431"))).apply(job).sticks[0]
    # METHODS check 2-A: 48.30 g and 43.10 g are 12.065 percent.
    assert dried.moisture is not None and float(dried.moisture.exact) == pytest.approx(0.12065, abs=5e-6)
    assert dried.moisture.text == "12.06 %" and len(dried.ovens) == 1


def test_part_comes_changes_and_goes() -> None:
    job = PutPart(part("cap")).apply(JOB)
    assert [p.name for p in job.parts] == ["rib", "strut", "cap"]
    changed = PutPart(part("spar cap", "40"), was="cap").apply(job)
    assert [p.name for p in changed.parts] == ["rib", "strut", "spar cap"]
    assert changed.part("spar cap") == part("spar cap", "40")
    assert RemovePart("spar cap").apply(changed) == JOB


def test_quantity_may_go_down_to_what_is_cut() -> None:
    assert PutPart(part("rib", "20", 2), was="rib").apply(JOB).parts[0].quantity == 2


def test_section_and_settings() -> None:
    choice = ash_for_spruce(match="all", hold="width")
    assert ChooseSection(choice).apply(JOB) == replace(JOB, section=choice)
    habits = replace(Settings(), kerf=inches("3/32"))
    assert ChangeSettings(habits).apply(JOB) == replace(JOB, settings=habits)


def test_cut_is_added_and_may_touch_its_neighbours() -> None:
    job = cut("rib", "A", 41, 61).apply(JOB)
    assert job.cuts == (*JOB.cuts, CutMade("rib", "A", 41 * INCH, 61 * INCH))
    assert cut("strut", "B", 42, 72).apply(JOB).cuts[-1].end == inches("72").exact


def test_cut_stick_may_gain_a_defect_or_lose_its_loose_end() -> None:
    flawed = replace(JOB.sticks[0], defects=(Defect(inches("50"), inches("52")),))
    assert PutStick(flawed, was="A").apply(JOB).sticks[0].defects == flawed.defects
    shorter = replace(JOB.sticks[0], length=inches("41"))
    assert PutStick(shorter, was="A").apply(JOB).sticks[0].length == inches("41")


def test_a_defect_may_be_given_from_either_end_and_touch_both() -> None:
    for start, end in (("0", "72"), ("72", "0"), ("10", "10")):
        assert len(with_defect(start, end).apply(JOB).sticks[-1].defects) == 1


def test_undo_gives_back_the_very_job_and_redo_the_next() -> None:
    history = demo()
    jobs = [job for job, _ in history.past[1:]]
    walked, seen = history, []
    for _ in jobs:
        walked = walked.undo()
        seen.append(walked.job)
    assert all(one is other for one, other in zip(seen, reversed(jobs), strict=True))
    with pytest.raises(Clash):
        walked.undo()
    for _ in jobs:
        walked = walked.redo()
    assert walked == history and walked.job is history.job
    with pytest.raises(Clash):
        walked.redo()


def test_an_edit_after_undoing_forgets_what_was_undone() -> None:
    back = demo().undo().undo()
    onward = back.accept(PutStick(stick("NEW")))
    assert not onward.future and not onward.can_redo
    assert onward.undo().job is back.job


def test_the_same_edits_give_the_same_job() -> None:
    history = demo()
    job: Any = EMPTY.job
    for _, edit in history.past:
        before = {field.name: getattr(job, field.name) for field in fields(job)}
        job, old = edit.apply(job), job
        assert all(getattr(old, name) is value for name, value in before.items())
    assert job == history.job
