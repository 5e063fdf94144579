"""Undo then redo is identity; save then load is identity; and a job file tells the same history again."""

import json
import tempfile
from collections.abc import Callable
from dataclasses import MISSING, dataclass, fields
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.core.codec import from_plain, to_plain
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
from bench.core.errors import BadInput, Clash, Refusal
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry, History
from bench.core.records import (
    CutMade,
    Defect,
    FloatReading,
    House,
    Inspection,
    Job,
    Laid,
    Offer,
    OvenTest,
    Part,
    Scarfed,
    SectionChoice,
    Settings,
    ShopAir,
    Spoilt,
    Stick,
    Stretch,
    TimedMark,
    Typed,
    Weighing,
)
from bench.storage import JobFile

# --- any record at all, possible or not: for the codec
# Written out by hand, so that the codec's own reading of the annotations is not tested by itself.
anything = st.text(st.characters(), max_size=12)  # with halves of characters, unlike st.text()
number = st.floats(allow_nan=False, allow_infinity=False)
typed = st.builds(Typed, st.fractions(), anything)
whole = st.integers(-(2**70), 2**70)
reading = st.builds(
    FloatReading,
    st.lists(number, max_size=4).map(tuple),
    typed,
    typed,
    typed,
    typed,
    whole,
    anything,
    number,
    anything,
    st.lists(st.builds(TimedMark, number, number), max_size=2).map(tuple),
    anything,
)
maybe = st.none() | typed
defects = st.lists(st.builds(Defect, typed, typed, anything, maybe, maybe, maybe), max_size=3).map(tuple)
inspection = st.builds(Inspection, maybe, maybe, maybe, maybe, maybe, maybe, st.booleans())
weighing = st.builds(Weighing, typed, typed, typed, typed, typed, anything)
oven = st.builds(OvenTest, typed, typed, anything)
readings = st.lists(reading, max_size=2).map(tuple)
stick = st.builds(
    Stick,
    anything,
    anything,
    typed,
    typed,
    typed,
    maybe,
    anything,
    anything,
    defects,
    readings,
    anything,
    inspection,
    st.lists(weighing, max_size=1).map(tuple),
    st.lists(oven, max_size=1).map(tuple),
    anything,
    anything,
    st.lists(anything, max_size=2).map(tuple),
    st.none() | st.fractions(),
    st.none() | st.fractions(),
    st.lists(anything, max_size=2).map(tuple),
)
stretches = st.lists(st.builds(Stretch, typed, typed), max_size=2).map(tuple)
part = st.builds(
    Part,
    anything,
    typed,
    typed,
    typed,
    whole,
    anything,
    st.booleans(),
    maybe,
    anything,
    anything,
    anything,
    anything,
    st.booleans(),
    maybe,
    anything,
    stretches,
    anything,
)
spoilt = st.builds(Spoilt, anything, anything, st.fractions(), st.fractions(), anything)
laid = st.builds(Laid, anything, anything, st.fractions(), st.fractions(), whole, st.none() | st.fractions())
pieces = st.lists(laid, max_size=3).map(tuple)
scarfed = st.builds(Scarfed, anything, st.lists(part, max_size=2).map(tuple))
offer = st.builds(Offer, anything, anything, typed, typed, typed, maybe)
section = st.builds(
    SectionChoice,
    anything,
    anything,
    typed,
    typed,
    anything,
    anything,
    anything,
    maybe,
    coupons_by=anything,
    coupons=anything,
)
blow = st.builds(Blow, typed, anything)
load_point = st.builds(LoadPoint, typed, typed)
coupon = st.builds(
    Coupon,
    anything,
    anything,
    typed,
    typed,
    stick=anything,
    species=anything,
    lot=anything,
    moisture=maybe,
    mass=maybe,
    length=maybe,
    group=anything,
    taken=anything,
    aside=anything,
    note=anything,
    span=maybe,
    weight=maybe,
    striker=maybe,
    steps=st.lists(typed, max_size=2).map(tuple),
    blows=st.lists(blow, max_size=2).map(tuple),
    deflection=maybe,
    points=st.lists(load_point, max_size=2).map(tuple),
    load=maybe,
    reach=maybe,
    jaw=maybe,
    pull=anything,
    glued=maybe,
    scarf=maybe,
    fibre_one=maybe,
    fibre_two=maybe,
)
cut = st.builds(CutMade, anything, anything, st.fractions(), st.fractions())
house = st.builds(House, maybe, maybe, maybe, maybe, maybe, maybe)
habits = st.builds(
    Settings,
    anything,
    typed,
    typed,
    typed,
    typed,
    typed,
    typed,
    st.booleans(),
    anything,
    house,
    st.lists(typed, max_size=2).map(tuple),
    maybe,
    typed,
    typed,
    typed,
)
air = st.builds(ShopAir, maybe, maybe)
job = st.builds(
    Job,
    anything,
    anything,
    st.booleans(),
    habits,
    st.lists(stick, max_size=2).map(tuple),
    st.lists(part, max_size=2).map(tuple),
    section,
    st.lists(cut, max_size=2).map(tuple),
    air,
    st.lists(spoilt, max_size=2).map(tuple),
    pieces,
    st.lists(offer, max_size=2).map(tuple),
    st.lists(coupon, max_size=2).map(tuple),
    st.lists(anything, max_size=2).map(tuple),
)
ANY_EDIT: dict[str, st.SearchStrategy[Any]] = {
    "StartJob": st.builds(StartJob, anything, anything, st.booleans(), habits),
    "NameJob": st.builds(NameJob, anything),
    "PutStick": st.builds(PutStick, stick, anything),
    "RemoveStick": st.builds(RemoveStick, anything),
    "PutSticks": st.builds(PutSticks, st.lists(stick, max_size=2).map(tuple)),
    "TakeReading": st.builds(TakeReading, anything, reading),
    "SetAside": st.builds(SetAside, anything, whole, anything),
    "Inspect": st.builds(Inspect, anything, anything, maybe),
    "LookOver": st.builds(LookOver, anything, st.booleans()),
    "ReadAir": st.builds(ReadAir, air),
    "TakeWeighing": st.builds(TakeWeighing, anything, weighing),
    "TakeOvenTest": st.builds(TakeOvenTest, anything, oven),
    "PutPart": st.builds(PutPart, part, anything),
    "RemovePart": st.builds(RemovePart, anything),
    "ChooseSection": st.builds(ChooseSection, section),
    "ChangeSettings": st.builds(ChangeSettings, habits),
    "MarkCut": st.builds(MarkCut, cut),
    "PutParts": st.builds(PutParts, st.lists(part, max_size=2).map(tuple)),
    "LayOut": st.builds(
        LayOut,
        pieces,
        st.lists(scarfed, max_size=2).map(tuple),
        st.booleans(),
        st.lists(anything, max_size=2).map(tuple),
    ),
    "SpoilPiece": st.builds(SpoilPiece, spoilt),
    "CutShort": st.builds(CutShort, anything, anything, st.fractions(), typed, anything),
    "CondemnStick": st.builds(CondemnStick, anything, anything),
    "RipPlank": st.builds(RipPlank, anything, st.lists(typed, max_size=3).map(tuple), maybe),
    "PutOffer": st.builds(PutOffer, offer, anything),
    "RemoveOffer": st.builds(RemoveOffer, anything),
    "PutCoupon": st.builds(PutCoupon, coupon, anything),
    "RemoveCoupon": st.builds(RemoveCoupon, anything),
    "Strike": st.builds(Strike, anything, blow),
    "TakeLoad": st.builds(TakeLoad, anything, load_point),
    "BringIn": st.builds(
        BringIn,
        anything,
        anything,
        st.lists(stick, max_size=2).map(tuple),
        st.lists(part, max_size=2).map(tuple),
        st.lists(coupon, max_size=2).map(tuple),
        st.lists(offer, max_size=2).map(tuple),
        st.lists(cut, max_size=2).map(tuple),
        st.lists(spoilt, max_size=2).map(tuple),
        st.none() | section,
        st.lists(anything, max_size=2).map(tuple),
    ),
}


def test_every_edit_has_a_strategy_here() -> None:
    assert set(ANY_EDIT) == set(EDITS)


@pytest.mark.parametrize("kind", sorted(EDITS))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_save_then_load_is_identity(kind: str, data: st.DataObject) -> None:
    edit = data.draw(ANY_EDIT[kind])
    text = json.dumps(to_plain(edit))
    assert text.isascii()
    again = from_plain(EDITS[kind], json.loads(text))
    assert again == edit
    assert type(again) is type(edit)
    assert to_plain(again) == to_plain(edit)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(job)
def test_a_whole_job_comes_back(before: Job) -> None:
    assert from_plain(Job, json.loads(json.dumps(to_plain(before)))) == before


def test_what_a_file_holds_is_plain() -> None:
    """Written out by hand: the form is in people's files and must not drift."""
    edit = PutStick(
        Stick(
            "A-1",
            "sitka_spruce",
            Typed(Fraction(127, 40_000), "1/8 in"),
            Typed(Fraction(1), "1 m"),
            Typed(Fraction(1, 2), ".5m"),
            defects=(Defect(Typed(Fraction(0), "0"), Typed(Fraction(-1, 3), "x")),),
        )
    )
    assert to_plain(edit) == {
        "stick": {
            "tag": "A-1",
            "species": "sitka_spruce",
            "length": {"exact": "127/40000", "text": "1/8 in"},
            "width": {"exact": "1", "text": "1 m"},
            "depth": {"exact": "1/2", "text": ".5m"},
            "moisture": None,
            "variant": "",
            "lot": "",
            "defects": [
                {
                    "start": {"exact": "0", "text": "0"},
                    "end": {"exact": "-1/3", "text": "x"},
                    "kind": "",
                    "size": None,
                    "depth": None,
                    "edge": None,
                }
            ],
            "readings": [],
            "note": "",
            "inspection": {
                "rings": None,
                "slope_one": None,
                "slope_two": None,
                "edge_grain": None,
                "bow": None,
                "bow_over": None,
                "looked": False,
            },
            "weighings": [],
            "ovens": [],
            "parent": "",
            "condemned": "",
            "sawn_from": [],
            "sawn_width": None,
            "sawn_depth": None,
            "cleared": [],
        },
        "was": "",
    }


@pytest.mark.parametrize("kind", sorted(EDITS))
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_older_data_takes_the_default(kind: str, data: st.DataObject) -> None:
    edit = data.draw(ANY_EDIT[kind])
    plain = to_plain(edit)
    for field in fields(edit):
        if field.default is not MISSING:
            rest = {name: item for name, item in plain.items() if name != field.name}
            assert getattr(from_plain(EDITS[kind], rest), field.name) == field.default
        else:
            with pytest.raises(BadInput):
                from_plain(EDITS[kind], {name: item for name, item in plain.items() if name != field.name})


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        (Typed, {"exact": 1, "text": "1"}),
        (Typed, {"exact": "1/0", "text": "1"}),
        (Typed, {"exact": "one", "text": "1"}),
        (Typed, {"exact": "1", "text": "1", "unit": "m"}),
        (Typed, ["1", "1"]),
        (Typed, None),
        (RemoveStick, {"tag": None}),
        (RemoveStick, {"tag": ["A"]}),
        (RemoveStick, {}),
        (tuple[float, ...], {"0": 1.0}),
        (tuple[float, ...], [True]),
        (tuple[float, ...], ["1.0"]),
        (int, 1.0),
        (int, True),
        (bool, 1),
        (Typed | None, "none"),
    ],
)
def test_data_of_another_form_is_refused(kind: Any, data: object) -> None:
    with pytest.raises(BadInput):
        from_plain(kind, data)


@dataclass(frozen=True)
class Stray:
    inside: object


@pytest.mark.parametrize("value", [{1, 2}, b"x", 1j, [1], Stray({}), Stray((b"x",))])
def test_what_no_record_holds_is_not_stored(value: object) -> None:
    with pytest.raises(TypeError):
        to_plain(value)


# --- edits that a job may well accept: for the history
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
