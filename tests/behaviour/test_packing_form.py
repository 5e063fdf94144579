"""What the entries mean never changes under a snapshot that was taken before: a fixed record and its digest.

Every figure is invented. The digest was worked out by this test itself; it proves no figure right, only that
the fold of a record tells what it told when snapshots of this form were taken.
"""

import json
from fractions import Fraction
from hashlib import blake2b

from bench.core import packing
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
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry, History
from bench.core.records import (
    CutMade,
    Defect,
    FloatReading,
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
    Typed,
    Weighing,
    inches,
)

# Form of a snapshot -> digest of what the record below comes to, entry for entry.
PINNED = {1: "aabd61dcf0953c8ae479c36b21d23190"}

ONE, TWO, LONG = inches("1"), inches("2"), inches("96")
DRY, KILO = Typed(Fraction(1, 10), "10 %"), Typed(Fraction(1), "1 kg")
WATER = Typed(Fraction(29_315, 100), "20 C")
AT, END = Fraction(1, 2), Fraction(3, 4)


def _stick(tag: str) -> Stick:
    return Stick(
        tag, "sitka_spruce", LONG, TWO, ONE, DRY, lot="lot 1", defects=(Defect(ONE, TWO, "knot", ONE),)
    )


def _part(name: str, quantity: int = 2) -> Part:
    return Part(name, inches("12"), ONE, ONE, quantity, note="invented")


STOCK: tuple[Edit, ...] = (
    StartJob("Tansy", "2031-05-01", invented=True),
    NameJob("Tansy wing"),
    ChangeSettings(Settings(units="mm", kerf=inches("1/8"))),
    ReadAir(ShopAir(WATER, Typed(Fraction(1, 2), "50 %"))),
    PutStick(_stick("A-1")),
    PutSticks((_stick("A-2"), _stick("A-3"), _stick("A-4"))),
    PutStick(_stick("B-1"), was="A-4"),
    TakeReading("A-1", FloatReading((2.0, 2.5), ONE, LONG, DRY, WATER, taken="2031-05-01")),
    TakeReading("A-1", FloatReading((2.25,), ONE, LONG, DRY, WATER)),
    SetAside("A-1", 0, "wet"),
    SetAside("A-1", 0, ""),
    Inspect("A-1", "slope_one", Typed(Fraction(1, 20), "1:20")),
    Inspect("A-2", "bow", ONE),
    Inspect("A-2", "bow", None),
    LookOver("A-1"),
    TakeWeighing("A-2", Weighing(KILO, TWO, ONE, LONG, DRY)),
    TakeOvenTest("A-2", OvenTest(KILO, Typed(Fraction(9, 10), "0.9 kg"))),
    RemoveStick("A-3"),
    PutOffer(Offer("plank", "sitka_spruce", ONE, TWO, LONG)),
    PutOffer(Offer("board", "white_ash", ONE, TWO, LONG), was="plank"),
    PutOffer(Offer("spare", "white_ash", ONE, TWO, LONG)),
    RemoveOffer("spare"),
)
SAW: tuple[Edit, ...] = (
    PutPart(_part("rib")),
    PutPart(_part("nose rib"), was="rib"),
    PutParts((_part("cap", 4), _part("brace"), _part("spar", 1))),
    RemovePart("brace"),
    ChooseSection(SectionChoice(use="white_ash", width=ONE, depth=TWO, stick="B-1")),
    LayOut(
        (
            Laid("nose rib", "A-1", Fraction(0), Fraction(1, 4)),
            Laid("nose rib", "A-1", AT, END),
            Laid("cap", "B-1", Fraction(0), Fraction(1, 4), 1, Fraction(1, 50)),
        ),
        (Scarfed("spar", (_part("spar 1", 1), _part("spar 2", 1))),),
        follows=True,
        out=("cap",),
    ),
    MarkCut(CutMade("nose rib", "A-1", Fraction(0), Fraction(1, 4))),
    SpoilPiece(Spoilt("nose rib", "A-1", AT, END, "split")),
    CutShort("cap", "A-1", Fraction(1), inches("6"), "A-5"),
    RipPlank("B-1", (inches("3/4"),), inches("1")),
    CondemnStick("A-2", "rot"),
    PutCoupon(Coupon("C-1", "hatt_turner", ONE, ONE, stick="A-1", span=LONG)),
    PutCoupon(Coupon("C-2", "bending", ONE, ONE, stick="A-1"), was="C-1"),
    PutCoupon(Coupon("C-3", "bending", ONE, ONE)),
    Strike("C-2", Blow(TWO, "nothing")),
    TakeLoad("C-2", LoadPoint(KILO, ONE)),
    RemoveCoupon("C-3"),
    BringIn(
        "Yarrow",
        "2031-06-01",
        (_stick("A-1"), _stick("Y-1")),
        (_part("nose rib", 5), _part("tip")),
        (Coupon("C-9", "bending", ONE, ONE),),
        (Offer("beam", "white_ash", ONE, TWO, LONG),),
        (CutMade("tip", "Y-1", AT, END),),
        (Spoilt("tip", "Y-1", Fraction(0), AT, "burnt"),),
        SectionChoice(width=TWO),
        over=("stick A-1", "part nose rib"),
    ),
)


def _entries() -> list[Entry]:
    turns = [Entry(UNDO)] * 9 + [Entry(REDO)] * 5
    edits = [*(Entry(EDIT, edit) for edit in STOCK), *turns, *(Entry(EDIT, edit) for edit in SAW)]
    return [*edits, *turns, Entry(EDIT, NameJob("Tansy tail"))]


def _told(history: History) -> str:
    """All of a history but the names of the fields: a snapshot with other fields is seen by those."""
    packed = packing.pack(history)
    rows = {key: packed[key] for key in ("count", "typed", "job", "back", "forward")}
    return json.dumps(rows, sort_keys=True)


def test_the_record_has_an_edit_of_every_kind() -> None:
    assert {type(edit).__name__ for edit in (*STOCK, *SAW)} == set(EDITS)


def test_a_record_means_what_it_meant_when_snapshots_of_this_form_were_taken() -> None:
    digest, history, before = blake2b(digest_size=16), EMPTY, EMPTY
    for entry in _entries():
        before, history = history, history.follow(entry)
        assert history.job != before.job, f"{entry} changes nothing, and so checks nothing"
        digest.update(_told(history).encode("ascii"))
    assert digest.hexdigest() == PINNED.get(packing.FORM), (
        "a change of meaning: raise packing.FORM, so that no snapshot of before is read,"
        f' and pin here {{{packing.FORM}: "{digest.hexdigest()}"}} for the new form'
    )
