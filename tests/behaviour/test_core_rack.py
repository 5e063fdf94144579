"""A large rack: judged as it is looked at, and never otherwise than a small one; its cuts on a short list."""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from core_cases import WOODS, part, reading, stick

from bench.core import fitting, grading, rack, shortlist
from bench.core.edits import (
    CondemnStick,
    Edit,
    LookOver,
    PutPart,
    PutStick,
    RemoveStick,
    RipPlank,
    StartJob,
    TakeReading,
)
from bench.core.fitting import Asked
from bench.core.history import EMPTY
from bench.core.judging import judge
from bench.core.rack import Rack
from bench.core.records import Job, Typed, inches
from bench.core.river import flow

SMALL = 40


def _job(sticks: int, seed: int = 1) -> Job:
    rng = Random(seed)
    job = EMPTY.accept(StartJob("Large", invented=True)).job
    for number in range(sticks):
        length = Typed(Fraction(rng.randint(1000, 3000), 1000), "length")
        job = PutStick(replace(stick(f"S-{number}", species="sitka_spruce"), length=length)).apply(job)
        job = TakeReading(f"S-{number}", reading(rng.randint(45, 80) / 10)).apply(job)
    for number in range(4):
        job = PutPart(part(f"rib {number}", quantity=3)).apply(job)
    return job


def _needs(job: Job) -> list[grading.Needs]:
    river = flow(job, WOODS)
    return list(river.fits)


@pytest.fixture(autouse=True)
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """So that a few sticks are many."""
    monkeypatch.setattr(rack, "AT_ONCE", 10)
    monkeypatch.setattr("bench.core.river.AT_ONCE", 10)


def test_a_rack_says_of_every_stick_what_judging_it_says() -> None:
    job = _job(SMALL)
    found = Rack(job, WOODS)
    for place, each in enumerate(job.sticks):
        alone = judge(each, WOODS[each.species], job.settings)
        assert found[place] == alone
        grade = found.grade(place)
        assert (grade.low, grade.value) == (alone.verdict.low, alone.verdict.value)
        assert dict(grade.words) == alone.words


def test_nothing_is_laid_out_before_every_stick_is_judged() -> None:
    job = _job(SMALL)
    first = flow(job, WOODS, patient=False)
    assert first.plan is None and "not judged yet" in str(first.plan_refusal)
    assert first.hand == judge(job.sticks[0], WOODS[job.sticks[0].species], job.settings)
    assert 0 < first.rack.look_on(15) <= SMALL - 15
    changed = TakeReading("S-3", reading(6.9)).apply(job)
    second = flow(changed, WOODS, previous=first, patient=False)
    assert 0 < second.rack.waiting < SMALL, "what was judged stays judged"
    while second.rack.look_on(7):
        pass
    third = flow(changed, WOODS, previous=second, patient=False)
    whole = flow(changed, WOODS)
    assert third.plan == whole.plan and third.parts == whole.parts and third.problem == whole.problem


def test_fits_kept_up_are_fits_found_anew() -> None:
    job, rng = _job(SMALL), Random(2)
    needs, asked = _needs(job), Asked(use_held=True, planing=Fraction(0))
    was = Rack(job, WOODS)
    kept = fitting.fits(needs, was, asked)
    for step in range(25):
        tag = rng.choice(job.sticks).tag
        edit = rng.choice(
            [
                TakeReading(tag, reading(rng.randint(45, 80) / 10)),
                CondemnStick(tag, "" if job.stick(tag).condemned else "rot"),  # type: ignore[union-attr]
                RemoveStick(tag),
                PutStick(
                    replace(stick(f"N-{step}", species="sitka_spruce"), length=Typed(Fraction(2), "2 m"))
                ),
                PutStick(replace(job.stick(tag), tag=f"R-{step}"), was=tag),  # type: ignore[type-var]
            ]
        )
        job = edit.apply(job)
        now = Rack(job, WOODS, was)
        kept, was = fitting.fits(needs, now, asked, kept, was), now
        fresh = Rack(job, WOODS)
        assert kept == fitting.fits(needs, fresh, asked)
        for need, fit in kept.items():
            assert (fit.tags, fit.why) == _eligible(need, fresh.grades())


@pytest.mark.parametrize("seed", range(6))
def test_a_rack_kept_up_is_a_rack_judged_anew(seed: int) -> None:
    """Sticks measured, condemned, ripped, come and gone, while the rack is still being gone through."""
    rng = Random(seed)
    job = _job(SMALL, seed)
    kept = Rack(job, WOODS)
    for step in range(40):
        kept.look_on(rng.randint(0, 9))
        parents = {each.parent for each in job.sticks}
        akin = [each for each in job.sticks if each.parent or each.tag in parents]
        one = rng.choice(akin if akin and rng.random() < 0.6 else job.sticks)
        edits: list[Edit] = [
            TakeReading(one.tag, reading(rng.randint(45, 80) / 10)),
            CondemnStick(one.tag, "" if one.condemned else "rot"),
            LookOver(one.tag),
            RemoveStick(one.tag),
            PutStick(replace(stick(f"N-{step}", species="sitka_spruce"), length=one.length)),
            PutStick(replace(one, tag=f"P-{step}", parent=one.tag, sawn_from=(*one.lineage, one.tag))),
            PutStick(replace(one, tag=f"R-{step}"), was=one.tag),
            RipPlank(one.tag, (Typed(one.width.exact / 3, "rip"),), Typed(one.width.exact / 3, "rest")),
        ]
        now = rng.choice(edits).apply(job)
        job = job if rng.random() < 0.15 else now  # some is only tried, and taken back
        kept = Rack(job, WOODS, Rack(now, WOODS, kept))
        fresh = Rack(job, WOODS)
        graded = sum(kept._grades[place] is not None for place in range(len(kept)))
        assert kept.waiting == len(kept) - graded
        places = rng.sample(range(len(kept)), 12)
        assert [kept[place] for place in places] == [fresh[place] for place in places]
        if step % 5 == 4:
            tags = frozenset(rng.sample([each.tag for each in job.sticks], len(job.sticks) // 2))
            assert kept.ranked(tags, job.place) == fresh.ranked(tags, job.place)
        if step % 13 == 12:
            assert kept.look_on(len(kept)) == 0
            assert kept.grades() == fresh.grades()


def _eligible(need: grading.Needs, rack: list[grading.Candidate]) -> tuple[frozenset[str], str]:
    """The same in the plainest way: rule by rule, and the rule that barred the last stick."""
    left = rack
    for place, rule in enumerate(grading.RULES):
        left = [one for one in left if grading.level(need, one, True, Fraction(0), place) > place]
        if not left:
            return frozenset(), rule
    return frozenset(one.stick.tag for one in left), ""


def test_a_short_list_is_looked_at_and_places_as_much(monkeypatch: pytest.MonkeyPatch) -> None:
    job = _job(80)
    whole = flow(job, WOODS)
    monkeypatch.setattr(shortlist, "MOST", 20)
    short = flow(job, WOODS)
    assert len(whole.problem.sticks) > 20 >= len(short.problem.sticks) > 0
    assert whole.plan is not None and short.plan is not None
    assert short.plan.unplaced_count == whole.plan.unplaced_count == 0
    assert short.plan.sticks_opened <= whole.plan.sticks_opened
    # What cuts lie on stays in the list, and so the plan stays.
    again = flow(TakeReading("S-1", reading(5.0)).apply(job), WOODS, previous=short)
    assert {row.tag for row in short.plan.sticks} - {"S-1"} <= {one.tag for one in again.problem.sticks}


def test_no_piece_goes_without_a_stick_that_each_needs_for_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parts nearly as long as a stick: one for each piece, which are more than the least number."""
    monkeypatch.setattr(shortlist, "MOST", 40)
    job = EMPTY.accept(StartJob("Large", invented=True)).job
    for number in range(60):
        plain = replace(stick(f"S-{number}", species="sitka_spruce"), length=inches("40"))
        job = TakeReading(plain.tag, reading(6.0)).apply(PutStick(plain).apply(job))
    job = PutPart(part("spar", "38", 30)).apply(job)
    found = flow(job, WOODS)
    assert found.plan is not None and shortlist.LEAST < 30 == len(found.problem.sticks)
    assert found.plan.placed == found.plan.sticks_opened == 30


def test_a_short_list_is_ample_and_no_longer() -> None:
    wood = shortlist.Wanted(False, 100, 1.0)
    rows = [(False, -9.0, "begun"), *((True, -0.1, f"S-{n}") for n in range(1, 200))]
    found = shortlist._ample(iter(rows), wood)
    assert found == ["begun", *(f"S-{n}" for n in range(1, 41))], "four times a cubic metre, by the tenth"
    few = shortlist._ample(iter(rows), shortlist.Wanted(False, 15, 9.0))
    assert len(few) == 16, "begun ones are not counted, and no more than pieces"
    assert len(shortlist._ample(iter(rows), shortlist.Wanted(False, 2, 0.001))) == 1 + shortlist.LEAST
