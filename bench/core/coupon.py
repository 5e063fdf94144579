"""A coupon that is broken on purpose, and what was done to it: records, frozen, nothing worked out.

One record serves every kind of test; what a kind has no use for stays empty. A test that is not at an end
yet is a coupon with fewer blows or readings.
"""

from bench.core.frozen import record
from bench.core.typed import Typed

DROP, BEND, SLIDE, GLUE = "drop", "bend", "slide", "glue"
TESTS = (DROP, BEND, SLIDE, GLUE)
NOTHING, CRACK, BROKEN = "nothing", "crack", "broken"
OUTCOMES = (NOTHING, CRACK, BROKEN)
SHEAR, TENSION, BENDING = "shear", "tension", "bending"
PULLS = (SHEAR, TENSION, BENDING)  # how a glue line is loaded


@record
class Blow:
    """The weight let fall once on a coupon."""

    height: Typed  # the weight falls, to the face it strikes [m]
    seen: str  # one of OUTCOMES


@record
class LoadPoint:
    """What was read while a coupon was bent."""

    load: Typed  # [N]
    deflection: Typed  # under the load, from where the reading began [m]


@record
class Coupon:
    """One coupon and its test."""

    tag: str
    test: str  # one of TESTS
    width: Typed  # across the blow or load [m]
    depth: Typed  # along it [m]
    stick: str = ""  # tag of the stick it was cut from; its wood and lot are that stick's
    species: str = ""  # where no stick is named
    lot: str = ""  # the same
    moisture: Typed | None = None  # mass of water over oven-dry mass; None: not measured [1]
    mass: Typed | None = None  # of the coupon [kg]
    length: Typed | None = None  # of the coupon that was weighed [m]
    group: str = ""  # a word of one's own, for comparing
    taken: str = ""  # date, ISO
    aside: str = ""  # why it does not count; empty: it counts
    note: str = ""
    span: Typed | None = None  # between the supports, of a drop or bending test [m]
    weight: Typed | None = None  # that is dropped or hung on [kg]
    striker: Typed | None = None  # radius of what strikes [m]
    steps: tuple[Typed, ...] = ()  # heights planned, in order [m]
    blows: tuple[Blow, ...] = ()
    deflection: Typed | None = None  # greatest under the highest blow that left it whole [m]
    points: tuple[LoadPoint, ...] = ()
    load: Typed | None = None  # the greatest, of a bending test without readings or of a glue line [N]
    reach: Typed | None = None  # from the jaw to the hung weight when it broke [m]
    jaw: Typed | None = None  # length of stick held in the jaw [m]
    pull: str = SHEAR  # how a glue line was loaded, one of PULLS
    glued: Typed | None = None  # length of the glue line; its width is that of the coupon [m]
    scarf: Typed | None = None  # slope of a scarf that is pulled or bent, rise over run [1]
    fibre_one: Typed | None = None  # share of one face of the broken joint that shows torn wood [1]
    fibre_two: Typed | None = None  # of the other face [1]
