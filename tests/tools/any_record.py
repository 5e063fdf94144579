"""Any record and any edit at all, possible or not: for the codec.

Written out by hand, so that the codec's own reading of the annotations is not tested by itself.
"""

from typing import Any

from hypothesis import strategies as st

from bench.core.coupon import Blow, Coupon, LoadPoint
from bench.core.edits import (
    BringIn,
    ChangeSettings,
    ChooseSection,
    CondemnStick,
    CutShort,
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
    "StartJob": st.builds(StartJob, anything, anything, st.booleans(), habits, section),
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
