"""Every edit: what it refuses while the job stays as it was."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from core_cases import ash_for_spruce, part, reading, stick, typed

from bench.core import edits
from bench.core.coupon import CRACK, Blow, LoadPoint
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
from bench.core.errors import Clash, Missing, OutOfRange, Refusal, UnknownName
from bench.core.history import EMPTY
from bench.core.records import (
    House,
    Inspection,
    Laid,
    Offer,
    OvenTest,
    Scarfed,
    Settings,
    ShopAir,
    Spoilt,
    inches,
)
from bench.core.typed import Typed
from tests.tools.edit_cases import INCH, JOB, coupon, cut, weighing, with_defect


def offer(name: str, price: Any = None) -> Offer:
    """A plank of spruce to be had."""
    return Offer(name, "sitka_spruce", inches("1"), inches("6"), inches("96"), price)


def seen(**what: Any) -> PutStick:
    """A new stick of 72 in with something measured on it."""
    return PutStick(replace(stick("Z"), inspection=Inspection(**what)))


KG = Typed(Fraction(2), "2 kg")


# --- what is refused -----------------------------------------------------------------------------------

REFUSED: dict[str, tuple[type[Refusal], str, Callable[[], Edit]]] = {
    "a second start": (Clash, "job", lambda: StartJob("again")),
    "a tag used twice": (Clash, "tag", lambda: PutStick(stick("A"))),
    "a tag used twice in other letters": (Clash, "tag", lambda: PutStick(stick("a"))),
    "a tag taken from another": (Clash, "tag", lambda: PutStick(stick("B"), was="A")),
    "no tag": (Missing, "tag", lambda: PutStick(stick(" "))),
    "an endless tag": (OutOfRange, "tag", lambda: PutStick(stick("x" * 41))),
    "a stick nobody has": (UnknownName, "stick", lambda: PutStick(stick("Z"), was="Y")),
    "a stick of no length": (OutOfRange, "length", lambda: PutStick(stick("Z", length="0"))),
    "a stick of a mile": (OutOfRange, "length", lambda: PutStick(stick("Z", length="63360"))),
    "a stick of no width": (OutOfRange, "width", lambda: PutStick(stick("Z", side="0"))),
    "moisture above what is possible": (
        OutOfRange,
        "moisture",
        lambda: PutStick(replace(stick("Z"), moisture=typed("2.1"))),
    ),
    "a defect past the end": (OutOfRange, "defect", lambda: with_defect("70", "73")),
    "a defect before the start": (OutOfRange, "defect", lambda: with_defect("-1", "2")),
    "a reversed defect past the end": (OutOfRange, "defect", lambda: with_defect("73", "70")),
    "another tag for a cut stick": (Clash, "tag", lambda: PutStick(stick("Z"), was="A")),
    "another wood for a cut stick": (
        Clash,
        "species",
        lambda: PutStick(stick("A", species="sitka_spruce"), was="A"),
    ),
    "a cut stick shorter than its cuts": (
        Clash,
        "length",
        lambda: PutStick(stick("A", length="40"), was="A"),
    ),
    "removing a cut stick": (Clash, "stick", lambda: RemoveStick("A")),
    "a job without a name": (Missing, "job", lambda: NameJob(" ")),
    "removing no stick": (UnknownName, "stick", lambda: RemoveStick("Z")),
    "reading no stick": (UnknownName, "stick", lambda: TakeReading("Z", reading(6.8))),
    "a reading off the stick": (OutOfRange, "waterline", lambda: TakeReading("A", reading(10.1))),
    "a reading in boiling water": (
        OutOfRange,
        "water temperature",
        lambda: TakeReading("A", reading(6.8, bath="373")),
    ),
    "a reading of green wood": (
        OutOfRange,
        "moisture",
        lambda: TakeReading("A", reading(6.8, moisture="0.4")),
    ),
    "a part used twice": (Clash, "part", lambda: PutPart(part("Rib"))),
    "a part named as another": (Clash, "part", lambda: PutPart(part("rib"), was="strut")),
    "a part nobody has": (UnknownName, "part", lambda: PutPart(part("cap"), was="caps")),
    "no name": (Missing, "part", lambda: PutPart(part(""))),
    "a part of no length": (OutOfRange, "length", lambda: PutPart(part("cap", "0"))),
    "a part of negative depth": (
        OutOfRange,
        "depth",
        lambda: PutPart(replace(part("cap"), depth=inches("-1"))),
    ),
    "fewer than none": (OutOfRange, "quantity", lambda: PutPart(part("cap", quantity=-1))),
    "more than anyone saws": (OutOfRange, "quantity", lambda: PutPart(part("cap", quantity=10_001))),
    "a gravity beyond wood": (
        OutOfRange,
        "least gravity",
        lambda: PutPart(replace(part("cap"), minimum_sg=typed(2))),
    ),
    "fewer than are cut": (Clash, "quantity", lambda: PutPart(part("rib", "20", 1), was="rib")),
    "another name for a cut part": (Clash, "part", lambda: PutPart(part("ribs", "20", 3), was="rib")),
    "removing a cut part": (Clash, "part", lambda: RemovePart("rib")),
    "removing no part": (UnknownName, "part", lambda: RemovePart("cap")),
    "cutting no part": (UnknownName, "part", lambda: cut("cap", "A", 50, 60)),
    "cutting no stick": (UnknownName, "stick", lambda: cut("rib", "Z", 50, 60)),
    "a cut past the end": (Clash, "cut", lambda: cut("rib", "A", 53, 73)),
    "a cut before the start": (Clash, "cut", lambda: cut("rib", "B", -1, 19)),
    "a cut of nothing": (Clash, "cut", lambda: cut("rib", "B", 10, 10)),
    "a cut backwards": (Clash, "cut", lambda: cut("rib", "B", 20, 0)),
    "a cut over another": (Clash, "cut", lambda: cut("rib", "A", 40, 60)),
    "a cut inside another": (Clash, "cut", lambda: cut("strut", "A", 5, 10)),
    "a cut around another": (Clash, "cut", lambda: cut("strut", "A", 20, 50)),
    "the same cut again": (Clash, "cut", lambda: cut("rib", "A", 0, 20)),
    "a section of no width": (OutOfRange, "width", lambda: ChooseSection(ash_for_spruce(width=inches("0")))),
    "an unknown match": (OutOfRange, "match", lambda: ChooseSection(ash_for_spruce(match="looks"))),
    "an unknown hold": (OutOfRange, "hold", lambda: ChooseSection(ash_for_spruce(hold="both"))),
    "an unknown gravity": (OutOfRange, "gravity", lambda: ChooseSection(ash_for_spruce(gravity="guess"))),
    "a column of no length": (
        OutOfRange,
        "free length",
        lambda: ChooseSection(ash_for_spruce(free_length=inches("0"))),
    ),
    "a blade of less than nothing": (
        OutOfRange,
        "kerf",
        lambda: ChangeSettings(replace(Settings(), kerf=inches("-1/8"))),
    ),
    "no grid": (OutOfRange, "grid", lambda: ChangeSettings(replace(Settings(), grid=inches("0")))),
    "other units": (OutOfRange, "units", lambda: ChangeSettings(replace(Settings(), units="cubits"))),
    "an unknown document": (
        OutOfRange,
        "document",
        lambda: ChangeSettings(replace(Settings(), document="x")),
    ),
    "air that is boiling": (OutOfRange, "air", lambda: ReadAir(ShopAir(typed("400")))),
    "more than damp": (OutOfRange, "humidity", lambda: ReadAir(ShopAir(humidity=typed("1.1")))),
    "house limits the wrong way round": (
        OutOfRange,
        "moisture",
        lambda: ChangeSettings(
            replace(Settings(), house=House(moisture_low=typed("0.11"), moisture_high=typed("0.1")))
        ),
    ),
    "a list with a tag twice": (Clash, "tag", lambda: PutSticks((stick("Y"), stick("y")))),
    "a list with a tag of the rack": (Clash, "tag", lambda: PutSticks((stick("Y"), stick("A")))),
    "a list with one bad stick": (
        OutOfRange,
        "length",
        lambda: PutSticks((stick("Y"), stick("Z", length="0"))),
    ),
    "setting aside what was not read": (Clash, "reading", lambda: SetAside("A", 1, "slipped")),
    "setting aside before the first": (Clash, "reading", lambda: SetAside("A", -1, "slipped")),
    "counting what counts": (Clash, "reading", lambda: SetAside("A", 0, " ")),
    "an endless reason": (OutOfRange, "why", lambda: SetAside("A", 0, "x" * 201)),
    "weighing no stick": (UnknownName, "stick", lambda: TakeWeighing("Z", weighing("0.008"))),
    "weighing lead": (OutOfRange, "mass", lambda: TakeWeighing("A", weighing("0.08"))),
    "weighing nothing": (OutOfRange, "mass", lambda: TakeWeighing("A", weighing("0"))),
    "weighing green wood": (OutOfRange, "moisture", lambda: TakeWeighing("A", weighing("0.008", "0.31"))),
    "drying that makes heavier": (
        OutOfRange,
        "wet mass",
        lambda: TakeOvenTest("A", OvenTest(typed("0.043"), typed("0.048"))),
    ),
    "drying a sponge": (
        OutOfRange,
        "wet mass",
        lambda: TakeOvenTest("A", OvenTest(typed("0.2"), typed("0.05"))),
    ),
    "drying to nothing": (
        OutOfRange,
        "dry mass",
        lambda: TakeOvenTest("A", OvenTest(typed("0.2"), typed("0"))),
    ),
    "measuring no stick": (UnknownName, "stick", lambda: Inspect("Z", "rings", None)),
    "measuring what is not measured": (UnknownName, "measurement", lambda: Inspect("A", "looked", None)),
    "measuring what cannot be": (OutOfRange, "rings", lambda: Inspect("A", "rings", typed("1e5"))),
    "looking over no stick": (UnknownName, "stick", lambda: LookOver("Z")),
    "a part for no use": (OutOfRange, "use", lambda: PutPart(replace(part("cap"), use="firewood"))),
    "a defect of no kind there is": (OutOfRange, "defect", lambda: with_defect("1", "2", kind="warp")),
    "a knot of a mile": (OutOfRange, "size of the defect", lambda: with_defect("1", "2", size=typed("2"))),
    "grain across": (OutOfRange, "slope of grain", lambda: seen(slope_one=typed("1.1"))),
    "rings beyond counting": (OutOfRange, "rings", lambda: seen(rings=typed("1e5"))),
    "more edge grain than there is": (OutOfRange, "edge grain", lambda: seen(edge_grain=typed("1.01"))),
    "a bow over more than the stick": (OutOfRange, "bow over", lambda: seen(bow_over=inches("73"))),
    "a bow the wrong way": (OutOfRange, "bow", lambda: seen(bow=inches("-1"))),
    "parts off a list, one name twice": (Clash, "part", lambda: PutParts((part("new"), part("New")))),
    "a layout of a part nobody has": (
        UnknownName,
        "part",
        lambda: LayOut((Laid("no such", "A", Fraction(0), INCH),)),
    ),
    "a layout on a stick nobody has": (
        UnknownName,
        "stick",
        lambda: LayOut((Laid("rib", "Z", Fraction(0), INCH),)),
    ),
    "lengths of more parts than are left": (
        Clash,
        "part",
        lambda: LayOut((), tuple(Scarfed("rib", (part(f"rib {n}"),)) for n in range(99))),
    ),
    "a length with the name of a part": (
        Clash,
        "part",
        lambda: LayOut((), (Scarfed("rib", (part("rib"),)),)),
    ),
    "spoiled where it is sawn already": (
        Clash,
        "cut",
        lambda: SpoilPiece(Spoilt("rib", "A", Fraction(0), 5 * INCH)),
    ),
    "spoiled beyond the stick": (
        Clash,
        "cut",
        lambda: SpoilPiece(Spoilt("rib", "A", Fraction(0), 999 * INCH)),
    ),
    "a short piece that is not short": (
        OutOfRange,
        "length",
        lambda: CutShort("rib", "A", 41 * INCH, inches("48"), "A short"),
    ),
    "a short piece under a tag that is taken": (
        Clash,
        "tag",
        lambda: CutShort("rib", "A", 41 * INCH, inches("1"), "A"),
    ),
    "not condemned, and no reason": (Clash, "stick", lambda: CondemnStick("A", " ")),
    "ripped after pieces came off": (Clash, "plank", lambda: RipPlank("A", (inches("1/4"),))),
    "ripped into nothing": (Missing, "strips", lambda: RipPlank("B", ())),
    "ripped wider than it is": (OutOfRange, "strips", lambda: RipPlank("B", (inches("9"), inches("1")))),
    "an offer without a name": (Missing, "offer", lambda: PutOffer(offer(""))),
    "an offer below nothing": (OutOfRange, "price", lambda: PutOffer(offer("x", inches("-1")))),
    "a coupon without a tag": (Missing, "coupon", lambda: PutCoupon(coupon(""))),
    "a coupon with a tag that is taken": (Clash, "coupon", lambda: PutCoupon(coupon("d-1"))),
    "a coupon of a stick nobody has": (UnknownName, "stick", lambda: PutCoupon(coupon("x", stick="Z"))),
    "a coupon for no test there is": (OutOfRange, "test", lambda: PutCoupon(coupon("x", test="twist"))),
    "a coupon of no width": (OutOfRange, "width", lambda: PutCoupon(coupon("x", width=inches("0")))),
    "a weight of nothing": (OutOfRange, "weight", lambda: PutCoupon(coupon("x", weight=inches("0")))),
    "a weight below nothing": (OutOfRange, "weight", lambda: PutCoupon(coupon("x", weight=inches("-1")))),
    "more torn wood than there is": (OutOfRange, "fibre one", lambda: PutCoupon(coupon("x", fibre_one=KG))),
    "heavier than any wood": (
        OutOfRange,
        "mass",
        lambda: PutCoupon(coupon("x", mass=KG, length=inches("1"))),
    ),
    "another test once blows were struck": (Clash, "test", lambda: PutCoupon(coupon("D-1", "bend"), "D-1")),
    "a coupon nobody has": (UnknownName, "coupon", lambda: RemoveCoupon("x")),
    "a blow on a coupon nobody has": (UnknownName, "coupon", lambda: Strike("x", Blow(inches("1"), CRACK))),
    "a blow from nothing": (OutOfRange, "height", lambda: Strike("D-2", Blow(inches("0"), CRACK))),
    "a blow that was not seen": (OutOfRange, "seen", lambda: Strike("D-2", Blow(inches("1"), "heard"))),
    "a blow after it broke": (Clash, "blow", lambda: Strike("D-1", Blow(inches("9"), CRACK))),
    "a blow in a bending test": (Clash, "coupon", lambda: Strike("E-1", Blow(inches("1"), CRACK))),
    "a load in a drop test": (Clash, "coupon", lambda: TakeLoad("D-1", LoadPoint(KG, inches("1")))),
    "a load below nothing": (
        OutOfRange,
        "load",
        lambda: TakeLoad("E-1", LoadPoint(inches("-1"), inches("1"))),
    ),
    "a stick that coupons were cut from": (Clash, "stick", lambda: RemoveStick("B")),
    "a stick of another job under a tag that is taken": (
        Clash,
        "tag",
        lambda: BringIn("Other job", "2026-03-14", sticks=(stick("A"),)),
    ),
    "a stretch that lies on no stick": (
        Clash,
        "cut",
        lambda: BringIn(
            "Other job",
            "2026-03-14",
            sticks=(stick("Z"),),
            spoilt=(Spoilt("rib", "Z", Fraction(90), Fraction(91)),),
        ),
    ),
    "an offer nobody has": (UnknownName, "offer", lambda: RemoveOffer("x")),
}


@pytest.mark.parametrize("what", REFUSED)
def test_refused(what: str) -> None:
    kind, field, make = REFUSED[what]
    before = repr(JOB)
    with pytest.raises(kind) as refused:
        make().apply(JOB)
    assert type(refused.value) is kind
    assert refused.value.quantity == field
    assert field in refused.value.message and "\n" not in refused.value.message
    assert repr(JOB) == before


def test_one_more_than_wanted_is_refused() -> None:
    done = cut("rib", "A", 41, 61).apply(JOB)
    with pytest.raises(Clash, match="all of them are cut already"):
        cut("rib", "B", 0, 20).apply(done)


def test_a_start_without_a_name_is_refused() -> None:
    with pytest.raises(Missing):
        StartJob("  ").apply(EMPTY.job)


def test_every_edit_has_a_refusal_here() -> None:
    assert {type(make()) for _, _, make in REFUSED.values()} == set(EDITS.values())


def test_every_edit_of_the_module_is_registered() -> None:
    kinds = {kind for kind in vars(edits).values() if isinstance(kind, type) and issubclass(kind, Edit)}
    assert kinds - {Edit} == set(EDITS.values())


# --- drafts and undoing --------------------------------------------------------------------------------


def test_subjects_tell_drafts_apart() -> None:
    one, other = TakeReading("A", reading(6.8)), TakeReading("A", reading(6.9))
    assert one.subject == other.subject != TakeReading("B", reading(6.8)).subject
    assert PutStick(stick("C"), was="B").subject == PutStick(stick("D"), was="B").subject
    assert PutPart(part("cap"), was="rib").subject == PutPart(part("cup"), was="rib").subject
    assert ChooseSection(ash_for_spruce()).subject == ChooseSection(ash_for_spruce(match="all")).subject
    subjects = {make().subject for _, _, make in REFUSED.values()}
    assert len(subjects) > len(EDITS)
