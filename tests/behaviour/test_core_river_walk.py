"""Long walks: a river that keeps its answers equals one worked out from nothing, and no plan gets worse.

What a plan may be is judged by the validator, which shares no code with the planner; the counts before and
after a step are compared with one another.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from random import Random

import pytest
from core_cases import WOODS, after, demo, part, reading, stick
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core.acceptance import HOLD, REJECT
from bench.core.edits import (
    ChangeSettings,
    ChooseSection,
    Edit,
    MarkCut,
    PutPart,
    PutStick,
    RemovePart,
    RemoveStick,
    TakeReading,
)
from bench.core.errors import Refusal
from bench.core.history import History
from bench.core.records import CutMade, Defect, Job, inches
from bench.core.resizing import HOLDS, MATCHES
from bench.core.river import River, flow
from bench.ui.cuts_drawing import body
from bench.ui.cuts_pane import same_picture
from tests.tools.plan_validator import faults

STEPS = 200
KEYS = ("sitka_spruce", "white_ash", "douglas_fir_coast", "yellow_birch", "balsa", "mallorn")


def plain(river: River) -> tuple[object, ...]:
    """A river but for its plan, with its refusals as text, as two equal refusals are not one object."""
    section, said = river.section, (river.section.refusal, river.plan_refusal)
    return (
        replace(river, section=replace(section, refusal=None), plan=None, plan_refusal=None),
        tuple((type(refusal), str(refusal)) for refusal in said),
    )


def an_edit(job: Job, river: River, random: Random) -> Edit:
    """Any edit, sensible or not."""
    tags = [known.tag for known in job.sticks]
    names = [known.name for known in job.parts]
    tag, name = random.choice(tags), random.choice(names)
    old, line = job.stick(tag), job.part(name)
    assert old is not None and line is not None
    pieces = (
        [(found.tag, piece) for found in river.plan.sticks for piece in found.pieces] if river.plan else []
    )
    where = Fraction(random.randint(-2, 60)) * Fraction(254, 10_000)
    on, piece = random.choice(pieces) if pieces else (tag, None)
    made = CutMade(piece.part, on, piece.start, piece.end) if piece else CutMade(name, tag, where, where * 2)
    settings = job.settings
    return random.choice(
        [
            TakeReading(tag, reading(random.randint(40, 90) / 10, moisture=random.choice(["0.09", "0.12"]))),
            TakeReading(tag, reading(*[random.randint(60, 80) / 10] * 2, angle="")),
            TakeReading(tag, reading(11.0)),
            PutStick(stick(f"N-{random.randint(1, 9)}", 6.8, species=random.choice(KEYS))),
            PutStick(
                replace(old, defects=(Defect(inches("10"), inches(str(random.randint(5, 90)))),)), was=tag
            ),
            PutStick(replace(old, species=random.choice(KEYS), width=inches("1")), was=tag),
            PutStick(replace(old, length=inches(str(random.randint(30, 130)))), was=tag),
            RemoveStick(tag),
            PutPart(part(f"new {random.randint(1, 9)}", str(random.randint(3, 80)), 2, random.choice(KEYS))),
            PutPart(replace(line, quantity=random.randint(0, 3), critical=random.random() < 0.5), was=name),
            PutPart(replace(line, width=inches(random.choice(["1/2", "3/4", "7/8"]))), was=name),
            RemovePart(name),
            ChooseSection(
                replace(
                    job.section,
                    use=random.choice(KEYS),
                    match=random.choice(MATCHES),
                    hold=random.choice(HOLDS),
                    gravity=random.choice(["handbook", "stick"]),
                    free_length=random.choice([None, inches("24")]),
                )
            ),
            ChooseSection(demo().job.section),
            ChangeSettings(replace(settings, kerf=inches(random.choice(["1/8", "3/32", "-1"])))),
            ChangeSettings(replace(settings, grid=inches(random.choice(["1/64", "1/32", "0"])))),
            ChangeSettings(replace(settings, use_held=not settings.use_held, squaring=inches("1/8"))),
            MarkCut(made),
        ]
    )


def walk(seed: int, steps: int) -> Iterator[tuple[River, River, bool]]:
    """River kept, river fresh, and whether the step was refused."""
    random, history = Random(seed), demo()
    river = flow(history.job, WOODS, "A-07")
    for _ in range(steps):
        refused = False
        try:
            history = one_step(history, river, random)
        except Refusal:
            refused = True
        tag = (
            random.choice([known.tag for known in history.job.sticks]) if random.random() < 0.3 else river.tag
        )
        river = flow(history.job, WOODS, tag, river)
        yield river, flow(history.job, WOODS, tag), refused


def one_step(history: History, river: River, random: Random) -> History:
    """An edit, or one undone or redone."""
    roll = random.random()
    if roll < 0.1:
        return history.undo()
    if roll < 0.15:
        return history.redo()
    return history.accept(an_edit(history.job, river, random))


@pytest.fixture(scope="module")
def steps() -> list[tuple[River, River, bool]]:
    return list(walk(7, STEPS))


def test_the_walk_goes_somewhere(steps: list[tuple[River, River, bool]]) -> None:
    refused = sum(step for _, _, step in steps)
    assert STEPS // 20 < refused < STEPS // 2
    assert len({id(river.plan) for river, _, _ in steps}) > STEPS // 10
    assert any(river.section.refusal for river, _, _ in steps)


def test_kept_answers_equal_fresh_ones(steps: list[tuple[River, River, bool]]) -> None:
    for count, (kept, fresh, _) in enumerate(steps):
        assert plain(kept) == plain(fresh), f"step {count}"


def test_laid_out_anew_it_is_the_fresh_one_whatever_was_before(
    steps: list[tuple[River, River, bool]],
) -> None:
    differ = 0
    for count in range(5, STEPS, 5):
        kept, fresh, _ = steps[count]
        anew = flow(kept.job, WOODS, kept.tag, steps[count - 5][0], anew=True)
        assert plain(anew) == plain(fresh) and anew.plan == fresh.plan, f"step {count}"
        differ += anew.plan != kept.plan
    assert differ, "no plan was ever another one than that kept, so the walk proved nothing"


def test_a_layout_that_is_not_drawn_again_would_look_the_same(
    steps: list[tuple[River, River, bool]],
) -> None:
    rivers = [river for river, _, _ in steps]
    spared = [(old, new) for old, new in pairwise(rivers) if old is not new and same_picture(old, new)]
    assert len(spared) > STEPS // 20
    assert any(old.rack is not new.rack for old, new in spared), "no stick was ever changed that is not drawn"
    for old, new in spared:
        assert body(old, None, 80, 1, 0, 200) == body(new, None, 80, 1, 0, 200)


def aims(river: River) -> tuple[int, int, int]:
    """Critical parts left out, parts left out, sticks opened: less is better, the first counts most."""
    assert river.plan is not None
    return river.plan.unplaced_critical, river.plan.unplaced_count, river.plan.sticks_used


def test_a_plan_from_the_one_before_is_as_good_as_a_fresh_one(steps: list[tuple[River, River, bool]]) -> None:
    differ = 0
    for count, (kept, fresh, _) in enumerate(steps):
        assert (kept.plan is None) == (fresh.plan is None), f"step {count}"
        if kept.plan is not None:
            assert faults(kept.problem, kept.plan) == [], f"step {count}"
            assert aims(kept) <= aims(fresh), f"step {count}"
            differ += kept.plan != fresh.plan
    assert differ, "the plan before was never kept, so the walk proved nothing"


def saw_up(choose: Callable[[int], int]) -> None:
    """Cut the demonstration job's plan piece by piece; it never loses a part nor opens a stick more."""
    history = demo()
    river = flow(history.job, WOODS)
    assert river.plan is not None and river.plan.placed > 30
    while river.plan is not None and river.plan.placed:
        pieces = [(row.tag, piece) for row in river.plan.sticks for piece in row.pieces]
        tag, piece = pieces[choose(len(pieces))]
        before = aims(river)
        history = history.accept(MarkCut(CutMade(piece.part, tag, piece.start, piece.end)))
        river = flow(history.job, WOODS, previous=river)
        assert river.plan is not None
        assert faults(river.problem, river.plan) == []
        assert aims(river) <= before
        assert river.plan.sticks_used <= before[2]
    assert len(history.job.cuts) == sum(known.quantity for known in history.job.parts)


def test_the_first_piece_of_the_plan_again_and_again() -> None:
    saw_up(lambda _: 0)


@settings(max_examples=12, deadline=None)
@given(st.randoms(use_true_random=False))
def test_any_piece_of_the_plan_again_and_again(random: Random) -> None:
    saw_up(random.randrange)


def test_a_try_leaves_no_trace_in_the_plan() -> None:
    """Cut one piece, so that the plan is one that was kept; then try defects and give them up."""
    history = demo()
    river = flow(history.job, WOODS)
    assert river.plan is not None
    first = river.plan.sticks[0]
    piece = first.pieces[0]
    history = history.accept(MarkCut(CutMade(piece.part, first.tag, piece.start, piece.end)))
    accepted = flow(history.job, WOODS, previous=river)
    assert accepted.plan is not None
    tried = accepted
    for row in accepted.plan.sticks[:5]:
        old = history.job.stick(row.tag)
        assert old is not None
        spoilt = replace(old, defects=(*old.defects, Defect(inches("1"), old.length, "split")))
        draft = PutStick(spoilt, was=row.tag).apply(history.job)
        tried = flow(draft, WOODS, previous=tried, settled=False)
        assert tried.plan != accepted.plan
        assert tried.plan == flow(draft, WOODS, previous=accepted, settled=False).plan
        assert flow(draft, WOODS, previous=tried).plan is tried.plan  # kept as it was shown
    assert flow(history.job, WOODS, previous=tried).plan is accepted.plan


def test_of_equal_plans_the_accepted_stays_while_trying_and_the_shown_on_keeping() -> None:
    """One part and two alike sticks, so that either is as good; the first is spoilt for a try."""
    first, second = stick("S-1", 6.6), stick("S-2", 6.6)
    line = part("rib", "20", 1, "white_ash")
    job = after([PutStick(first), PutStick(second), PutPart(line)])
    longer = PutPart(replace(line, length=inches("21")), was="rib").apply(job)
    spoilt = PutStick(replace(first, defects=(Defect(inches("1"), first.length, "split"),)), was="S-1")

    def sticks(river: River) -> list[str]:
        return [row.tag for row in river.plan.sticks] if river.plan else []

    accepted = flow(job, WOODS)
    tried = flow(spoilt.apply(job), WOODS, previous=accepted, settled=False)
    assert (sticks(accepted), sticks(tried)) == (["S-1"], ["S-2"])
    assert sticks(flow(longer, WOODS, previous=tried, settled=False)) == ["S-1"]
    assert sticks(flow(longer, WOODS, previous=tried)) == ["S-2"]


def test_no_rejected_stick_is_ever_planned(steps: list[tuple[River, River, bool]]) -> None:
    seen = 0
    for river, _, _ in steps:
        words = {judged.stick.tag: judged.verdict.word for judged in river.rack}
        for tag in (found.tag for found in river.plan.sticks if found.pieces) if river.plan else ():
            assert words[tag] != REJECT
            assert words[tag] != HOLD or river.job.settings.use_held
            seen += words[tag] == HOLD
    assert seen, "the walk never planned a held stick, so it proved nothing about them"


def test_no_part_is_planned_from_the_wrong_wood_or_twice(steps: list[tuple[River, River, bool]]) -> None:
    for river, _, _ in steps:
        sized = {found.part.name: found for found in river.parts}
        planned: dict[str, int] = {}
        for found in river.plan.sticks if river.plan else ():
            for piece in found.pieces:
                assert found.tag in sized[piece.part].sticks
                planned[piece.part] = planned.get(piece.part, 0) + 1
        for name, count in planned.items():
            assert count + sized[name].made <= sized[name].part.quantity
