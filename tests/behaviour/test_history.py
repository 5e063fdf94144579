"""Undo then redo is identity, a step back takes all that came of an edit, and a job file tells it again."""

import tempfile
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core.coupon import Blow, Coupon, LoadPoint
from bench.core.edits import (
    EDITS,
    BringIn,
    ChangeSettings,
    ChooseSection,
    CondemnStick,
    CutShort,
    Edit,
    Inspect,
    LayOut,
    LookOver,
    MarkCut,
    NameJob,
    PutCoupon,
    PutOffer,
    PutPart,
    PutParts,
    PutStick,
    PutSticks,
    ReadAir,
    RemoveCoupon,
    RemoveOffer,
    RemovePart,
    RemoveStick,
    RipPlank,
    SetAside,
    SpoilPiece,
    StartJob,
    Strike,
    TakeLoad,
    TakeOvenTest,
    TakeReading,
    TakeWeighing,
)
from bench.core.errors import Clash, Refusal
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry, History
from bench.core.records import (
    CutMade,
    FloatReading,
    Laid,
    Offer,
    OvenTest,
    Part,
    SectionChoice,
    Settings,
    ShopAir,
    Spoilt,
    Stick,
    Typed,
    Weighing,
)
from bench.storage import JobFile

tags = st.sampled_from(["A-1", "A-2", "B-1"])
names = st.sampled_from(["rib", "spar", "strut"])
size = st.fractions(Fraction(1, 100), Fraction(3), max_denominator=100).map(lambda f: Typed(f, f"{f} m"))
was = st.sampled_from(["", "", "A-1", "A-2", "rib"])
likely = st.one_of(
    st.builds(PutStick, st.builds(Stick, tags, st.just("sitka_spruce"), size, size, size), was),
    st.builds(RemoveStick, tags),
    st.builds(TakeReading, tags, st.builds(FloatReading, st.just((6.85,)), size, size, size, size)),
    st.builds(PutPart, st.builds(Part, names, size, size, size, st.integers(0, 3)), was),
    st.builds(RemovePart, names),
    st.builds(ChooseSection, st.builds(SectionChoice, width=size, depth=size)),
    st.builds(ChangeSettings, st.builds(Settings, st.sampled_from(["in", "mm"]))),
    st.builds(MarkCut, st.builds(CutMade, names, tags, st.just(Fraction(0)), st.just(Fraction(1, 100)))),
)
entry = st.one_of(
    likely.map(lambda edit: Entry(EDIT, edit)),
    likely.map(lambda edit: Entry(EDIT, edit)),
    st.just(Entry(UNDO)),
    st.just(Entry(REDO)),
)
START = Entry(EDIT, StartJob("Kestrel", "2031-05-01", True))


def accepted(entries: list[Entry]) -> tuple[History, list[Entry]]:
    """The history after those of the entries that it does not refuse, and which those are."""
    history, kept = EMPTY.follow(START), [START]
    for each in entries:
        try:
            history = history.follow(each) if each.edit is None else history.accept(each.edit)
        except Refusal:
            continue
        kept.append(each)
    return history, kept


@settings(max_examples=25, deadline=None)
@given(st.lists(entry, max_size=30))
def test_undo_then_redo_is_identity(entries: list[Entry]) -> None:
    history, _ = accepted(entries)
    trail = [history]
    while len(trail[-1].past) > 1:
        trail.append(trail[-1].undo())
    assert trail[-1].job == EMPTY.follow(START).job
    back = trail.pop()
    while trail:
        back = back.redo()
        assert back == trail.pop()


@settings(max_examples=25, deadline=None)
@given(st.lists(entry, max_size=30))
def test_the_history_is_a_row_of_jobs_and_a_finger(entries: list[Entry]) -> None:
    """Against a plain model: a list of jobs, and the place in it where the job stands."""
    history = EMPTY.follow(START)
    row, finger = [history.job], 0
    for each in entries:
        before = history
        try:
            history = history.follow(each)
        except Refusal:
            assert history is before
            if each.what != EDIT:
                assert finger == (0 if each.what == UNDO else len(row) - 1)
            continue
        if each.edit is not None:
            row, finger = [*row[: finger + 1], each.edit.change(row[finger])], finger + 1
        else:
            finger += -1 if each.what == UNDO else 1
        assert history.job == row[finger]
        assert (len(history.past), len(history.future)) == (finger + 1, len(row) - 1 - finger)


@settings(max_examples=40, deadline=None)
@given(st.lists(entry, max_size=30))
def test_a_job_file_tells_the_same_history_again(entries: list[Entry]) -> None:
    history, kept = accepted(entries)
    with tempfile.TemporaryDirectory() as folder:
        file = JobFile.create(Path(folder) / "x.tenthmark", kept[0], "t")
        file.append([(each, "t") for each in kept[1:]])
        file.close()
        again = JobFile.open(file.path)
        again.close()
    assert again.history == history


def test_likely_edits_are_mostly_taken() -> None:
    """Guards the properties above: one of each kind goes in, so they do not run on refusals alone."""
    metre, inch = Typed(Fraction(1), "1 m"), Typed(Fraction(254, 10_000), "1 in")
    dry, bath = Typed(Fraction(1, 10), "10 %"), Typed(Fraction(29_315, 100), "20 C")
    edits: list[Edit] = [
        NameJob("Tansy, the wing"),
        PutStick(Stick("A-1", "sitka_spruce", metre, inch, inch)),
        TakeReading("A-1", FloatReading((6.85,), inch, Typed(Fraction(254, 1000), "10 in"), dry, bath)),
        PutPart(Part("rib", metre, inch, inch)),
        ChooseSection(SectionChoice(width=inch)),
        ChangeSettings(Settings("mm")),
        PutPart(Part("spar", metre, inch, inch)),
        RemovePart("spar"),
        MarkCut(CutMade("rib", "A-1", Fraction(0), Fraction(1, 2))),
        PutStick(Stick("A-2", "sitka_spruce", metre, inch, inch)),
        RemoveStick("A-2"),
        PutSticks((Stick("A-3", "sitka_spruce", metre, inch, inch),)),
        SetAside("A-1", 0, "slipped"),
        Inspect("A-1", "bow", inch),
        LookOver("A-1"),
        ReadAir(ShopAir(bath, Typed(Fraction(1, 2), "50 %"))),
        TakeWeighing("A-1", Weighing(Typed(Fraction(3, 10), "300 g"), inch, inch, metre, dry)),
        TakeOvenTest("A-1", OvenTest(Typed(Fraction(11, 100), "110 g"), Typed(Fraction(1, 10), "100 g"))),
        PutParts((Part("cap", metre, inch, inch, 2),)),
        LayOut((Laid("cap", "A-3", Fraction(0), Fraction(1)),)),
        SpoilPiece(Spoilt("cap", "A-3", Fraction(0), Fraction(1, 10))),
        CutShort("cap", "A-3", Fraction(1, 5), Typed(Fraction(1, 2), "500 mm"), "A-3 short"),
        CondemnStick("A-3", "rot"),
        PutStick(Stick("P-1", "sitka_spruce", metre, Typed(Fraction(1, 10), "100 mm"), inch)),
        RipPlank("P-1", (inch, inch), Typed(Fraction(4, 100), "40 mm")),
        PutOffer(Offer("eight foot", "sitka_spruce", inch, metre, metre)),
        RemoveOffer("eight foot"),
        PutCoupon(Coupon("D-1", "drop", inch, inch)),
        Strike("D-1", Blow(inch, "crack")),
        PutCoupon(Coupon("E-1", "bend", inch, inch)),
        TakeLoad("E-1", LoadPoint(Typed(Fraction(100), "100 N"), inch)),
        RemoveCoupon("E-1"),
        BringIn("Other job", "2026-03-14", sticks=(Stick("Z-1", "sitka_spruce", metre, inch, inch),)),
    ]
    history, kept = accepted([Entry(EDIT, edit) for edit in edits])
    assert {type(each.edit).__name__ for each in kept} == set(EDITS)
    assert len(history.past) == len(edits) + 1


@pytest.mark.parametrize(
    "step",
    [History.undo, History.redo, lambda history: history.follow(Entry(EDIT))],
    ids=["undo", "redo", "edit"],
)
def test_nothing_to_undo_redo_or_follow(step: Callable[[History], History]) -> None:
    for history in (EMPTY, EMPTY.follow(START)):
        with pytest.raises(Clash):
            step(history)


def test_a_new_edit_forgets_what_was_undone() -> None:
    history, _ = accepted([Entry(EDIT, ChangeSettings(Settings("mm"))), Entry(UNDO)])
    assert len(history.future) == 1
    assert not history.accept(ChooseSection(SectionChoice("white_ash"))).can_redo


def test_what_came_of_an_edit_is_undone_with_it() -> None:
    """A layout made anew for a spoiled piece: one step back takes both, one forward brings both."""
    metre, inch = Typed(Fraction(1), "1 m"), Typed(Fraction(254, 10_000), "1 in")
    before, _ = accepted(
        [
            Entry(EDIT, PutStick(Stick("A-1", "sitka_spruce", metre, inch, inch))),
            Entry(EDIT, PutPart(Part("rib", inch, inch, inch))),
            Entry(EDIT, LayOut((Laid("rib", "A-1", Fraction(0), inch.exact),))),
        ]
    )
    anew = (Laid("rib", "A-1", inch.exact, 2 * inch.exact),)
    spoiled = before.accept(SpoilPiece(Spoilt("rib", "A-1", Fraction(0), inch.exact)))
    after = spoiled.accept(LayOut(anew, follows=True))
    assert after.job.laid == anew and len(after.past) == len(spoiled.past)
    assert after.undo().job == before.job
    assert after.undo().redo() == after
    again = before.follow(Entry(EDIT, SpoilPiece(Spoilt("rib", "A-1", Fraction(0), inch.exact))))
    assert again.follow(Entry(EDIT, LayOut(anew, follows=True))) == after
