"""Every record of a job, frozen; those of the library are of `wood`. None knows how it is shown or stored.

What a user typed is a `Typed`: the exact SI number and the text as typed, so that a flush fit stays flush
and the record shows what the builder wrote. Coupons are of `coupon`.
"""

from dataclasses import field
from fractions import Fraction
from typing import Any, TypeVar, cast

from bench.core.coupon import Coupon
from bench.core.frozen import record, replace
from bench.core.rack_places import Places
from bench.core.typed import Typed, inches
from bench.core.wood import Figure, Source, Species, Statement

__all__ = [
    "Coupon",
    "CutMade",
    "Defect",
    "Figure",
    "FloatReading",
    "House",
    "Inspection",
    "Job",
    "Laid",
    "Layer",
    "Offer",
    "OvenTest",
    "Part",
    "Scarfed",
    "SectionChoice",
    "Settings",
    "ShopAir",
    "Source",
    "Species",
    "Spoilt",
    "Statement",
    "Stick",
    "Stretch",
    "TimedMark",
    "Typed",
    "Weighing",
    "inches",
    "with_field",
]

Record = TypeVar("Record")


def with_field(record: Record, name: str, value: object) -> Record:
    """A record with one field, named by a text, changed."""
    changes: dict[str, Any] = {name: value}
    return cast(Record, replace(cast(Any, record), **changes))


@record
class Defect:
    """Something found on a stretch of a stick, from its marked end."""

    start: Typed  # [m]
    end: Typed  # [m]
    kind: str = ""  # a name of limits.KINDS; empty: not said what it is
    size: Typed | None = None  # across the grain: diameter of a knot, width of a pocket or streak [m]
    depth: Typed | None = None  # into the wood [m]
    edge: Typed | None = None  # from the nearer edge of its face [m]


@record
class Inspection:
    """What was measured and seen on a stick beside its gravity; None: not measured yet."""

    rings: Typed | None = None  # growth rings over a radial length, the fewest found [1/m]
    slope_one: Typed | None = None  # of the grain on one face, rise over run [1]
    slope_two: Typed | None = None  # on the face beside it, rise over run [1]
    edge_grain: Typed | None = None  # share of the depth that is edge-grained, the lesser of both faces [1]
    bow: Typed | None = None  # greatest gap under a straight edge [m]
    bow_over: Typed | None = None  # length of that straight edge; None: the whole stick [m]
    looked: bool = False  # all faces and both ends looked over, everything found is among the defects


@record
class TimedMark:
    """The waterline on the first face after a longer time in the water."""

    seconds: float  # in the water [s]
    mark: float  # [marks]


@record
class FloatReading:
    """One float test. One mark: centreline or one face; two: opposite faces; more: round the stick."""

    marks: tuple[float, ...]  # [marks]
    side: Typed  # of the square float stick [m]
    length: Typed  # of the float stick [m]
    moisture: Typed  # mass of water over oven-dry mass [1]
    water: Typed  # temperature of the bath [K]
    count: int = 10  # equal marks over the length
    angle: str = ""  # "" the species' contact angle, "none" no correction, else degrees as text
    seconds: float = 30.0  # in the water before reading [s]
    taken: str = ""  # date of the reading, ISO
    timed: tuple[TimedMark, ...] = ()  # later ones, on the first face
    aside: str = ""  # why it does not count; empty: it counts


@record
class Weighing:
    """The check by weight and size of a square-ended piece."""

    mass: Typed  # [kg]
    width: Typed  # [m]
    depth: Typed  # [m]
    length: Typed  # [m]
    moisture: Typed  # [1]
    taken: str = ""  # date, ISO


@record
class OvenTest:
    """Moisture of a cut-off by drying it to constant mass."""

    wet: Typed  # [kg]
    dry: Typed  # [kg]
    taken: str = ""  # date, ISO


@record
class Stick:
    """A piece of stock in the rack."""

    tag: str
    species: str
    length: Typed  # [m]
    width: Typed  # [m]
    depth: Typed  # [m]
    moisture: Typed | None = None  # [1]
    variant: str = ""
    lot: str = ""
    defects: tuple[Defect, ...] = ()
    readings: tuple[FloatReading, ...] = ()
    note: str = ""
    inspection: Inspection = Inspection()
    weighings: tuple[Weighing, ...] = ()
    ovens: tuple[OvenTest, ...] = ()
    parent: str = ""  # tag of the plank or stick it was sawn from
    condemned: str = ""  # why nothing is ever made of it; empty: it is not
    sawn_from: tuple[str, ...] = ()  # tags of all it was sawn from, the one that came into the rack first
    sawn_width: Fraction | None = None  # as it came off the rip saw: rough while it has that width [m]
    sawn_depth: Fraction | None = None  # the same [m]
    cleared: tuple[str, ...] = ()  # what was condemned before it, that it was looked over for since

    @property
    def lineage(self) -> tuple[str, ...]:
        """Tags of what it was sawn from, as far as it is known; none for what came into the rack as it is."""
        return (self.sawn_from or (self.parent,)) if self.parent else ()

    @property
    def origin(self) -> str:
        """Tag of the stick or plank that was opened for it: its own where it came into the rack as it is."""
        return (*self.lineage, self.tag)[0]

    @property
    def rough(self) -> tuple[bool, bool]:
        """Whether width and depth are as they came off the rip saw: planed even where the size is right."""
        return self.width.exact == self.sawn_width, self.depth.exact == self.sawn_depth

    @property
    def counted(self) -> tuple[FloatReading, ...]:
        """The readings that count: the last of each day that was not set aside; those without a date all."""
        by_day: dict[str, FloatReading] = {}
        for place, reading in enumerate(self.readings):
            if not reading.aside:
                by_day[reading.taken or f"undated {place}"] = reading
        return tuple(by_day.values())

    @property
    def reading(self) -> FloatReading | None:
        """The latest reading that was not set aside."""
        return next((reading for reading in reversed(self.readings) if not reading.aside), None)


@record
class Stretch:
    """A stretch of a part, from one end of it."""

    start: Typed  # [m]
    end: Typed  # [m]


@record
class Part:
    """A line of the drawing's list: so many pieces of one length and one section."""

    name: str
    length: Typed  # finished [m]
    width: Typed  # plan section [m]
    depth: Typed  # plan section [m]
    quantity: int = 1
    species: str = "sitka_spruce"  # the drawing's wood
    critical: bool = False
    minimum_sg: Typed | None = None  # oven-dry mass on oven-dry volume [1]
    note: str = ""
    use: str = "small_part"  # what the wood becomes, a name of limits.USES
    group: str = ""  # side, bay or assembly it belongs to
    grain: str = ""  # how the grain is to lie in it
    best: bool = False  # from the best sticks there are, as a critical part is
    scarf: Typed | None = None  # slope of a scarf joint, rise over run; None: no joint allowed [1]
    scarf_side: str = ""  # side the slope is cut across, "width" or "depth"; empty: the smaller
    no_joint: tuple[Stretch, ...] = ()  # where no joint may lie
    piece_of: str = ""  # the part that this is one length of, to be scarfed to the others


@record
class Layer:
    """One lamination of the replacement, from the outer face inward."""

    species: str
    thickness: Typed  # [m]


@record
class SectionChoice:
    """Which wood stands in for the drawing's, matched by what, and the plan section being looked at."""

    plan: str = "sitka_spruce"
    use: str = "sitka_spruce"
    width: Typed = inches("3/4")
    depth: Typed = inches("3/4")
    match: str = "weight"  # a name of resizing.MATCHES
    hold: str = ""  # "", "width" or "depth"
    # "handbook"; "stick": a stick's own gravity; "estimate": its strengths estimated from it as well;
    # "aircraft": design values; "coupons": bending tests of the shop
    gravity: str = "handbook"
    free_length: Typed | None = None  # of a column [m]; None: the Euler load
    stick: str = ""  # tag of the stick whose gravity is taken; empty: the one in hand
    shape: str = "rectangle"  # of the section on the pane, a name of sections.SHAPES
    flange: Typed | None = None  # thickness of one flange of a box or I [m]
    web: Typed | None = None  # thickness of one web [m]
    layers: tuple[Layer, ...] = ()  # of a laminated replacement
    own: tuple[str, ...] = ()  # the capacities that matter, where `match` is "own"
    held_at: Typed | None = None  # size of the held side as sawn; None: the plan's [m]
    cap_side: str = ""  # side that must fit a slot: "", "width" or "depth"
    cap: Typed | None = None  # the most that side may be [m]
    moisture: Typed | None = None  # of both woods; None: 12 percent [1]
    coupons_by: str = "wood"  # what the coupons are put together by, a name of break_groups.BY
    coupons: str = ""  # name of the group of coupons whose figures are taken


@record
class CutMade:
    """A piece sawn and taken off the stick; never moved by a later plan."""

    part: str
    stick: str
    start: Fraction  # from the stick's marked end [m]
    end: Fraction  # [m]
    width: Fraction | None = None  # it is dressed to, as planned when it was sawn; None: not recorded [m]
    depth: Fraction | None = None  # [m]


@record
class Spoilt:
    """A stretch sawn off a stick that became no part: the wood is gone, the part is still wanted."""

    part: str
    stick: str
    start: Fraction  # from the stick's marked end [m]
    end: Fraction  # [m]
    why: str = ""


@record
class Scarfed:
    """One piece of a part that is made of lengths scarfed together, each length a line of its own."""

    whole: str  # name of the part
    lengths: tuple[Part, ...]


@record
class Laid:
    """A piece of the layout that is being sawn, in its order; it stays where it is while it can."""

    part: str
    stick: str
    start: Fraction  # from the stick's marked end [m]
    end: Fraction  # [m]
    strip: int = 0  # of a plank still to be ripped, from 1; 0: not ripped
    strip_width: Fraction | None = None  # the fence for that strip [m]


@record
class Offer:
    """Wood that can be bought, in planks of one size."""

    name: str
    species: str
    thickness: Typed  # rough [m]
    width: Typed  # rough [m]
    length: Typed  # [m]
    price: Typed | None = None  # of one board foot, in the shop's money


@record
class House:
    """The shop's own limits, each only ever stricter than the published one; None: none of its own."""

    gravity_over: Typed | None = None  # least excess over the published minimum, oven-dry basis [1]
    rings: Typed | None = None  # fewest [1/m]
    slope: Typed | None = None  # steepest, both faces together, rise over run [1]
    moisture_low: Typed | None = None  # [1]
    moisture_high: Typed | None = None  # [1]
    knot: Typed | None = None  # greatest diameter [m]


@record
class Settings:
    """The shop's habits."""

    units: str = "in"  # "in" or "mm"
    kerf: Typed = inches("1/8")
    end_trim: Typed = inches("0")
    margin: Typed = inches("0")  # each side of a defect
    squaring: Typed = inches("0")  # added to each part, both ends together
    least_offcut: Typed = inches("6")
    grid: Typed = inches("1/64")  # finished sizes go up to a multiple of this
    use_held: bool = False  # may the cut list use sticks on hold
    document: str = "stricter"  # which limits govern: "stricter", or a name of limits.DOCUMENTS
    house: House = House()
    sizes: tuple[Typed, ...] = ()  # that the tools can be set to; none: multiples of the grid [m]
    rip_kerf: Typed | None = None  # of a cut along the grain; None: as the crosscut [m]
    edge: Typed = inches("0")  # taken off a plank to get a straight edge, before it is ripped [m]
    planing: Typed = inches("0")  # taken off each face of what is not at its finished size [m]
    least_piece: Typed = inches("12")  # shortest length in a scarfed part [m]


@record
class ShopAir:
    """What thermometer and hygrometer of the shop show; None: not read."""

    air: Typed | None = None  # temperature [K]
    humidity: Typed | None = None  # relative [1]


@record
class Job:
    """Everything accepted so far."""

    name: str
    started: str = ""  # ISO date
    invented: bool = False  # a demonstration: nothing in it was measured
    settings: Settings = Settings()
    sticks: tuple[Stick, ...] = ()
    parts: tuple[Part, ...] = ()
    section: SectionChoice = SectionChoice()
    cuts: tuple[CutMade, ...] = ()
    air: ShopAir = ShopAir()
    spoilt: tuple[Spoilt, ...] = ()
    laid: tuple[Laid, ...] = ()  # the layout being sawn, less what is cut; empty: laid out anew each time
    offers: tuple[Offer, ...] = ()
    coupons: tuple[Coupon, ...] = ()
    unlaid: tuple[str, ...] = ()  # parts that had no place in the layout being sawn, a name for each piece
    places: Places = field(default_factory=Places, repr=False, compare=False)  # handed from job to job

    @property
    def sawn(self) -> "tuple[CutMade | Spoilt, ...]":
        """Every stretch that is off its stick: parts, and what became none."""
        return (*self.cuts, *self.spoilt)

    def stick(self, tag: str) -> Stick | None:
        """The stick with this tag, or None."""
        place = self.place(tag)
        return None if place is None else self.sticks[place]

    def place(self, tag: str) -> int | None:
        """Where in the rack the stick with this tag is, from 0, or None; mostly in constant time."""
        return self.places.find(tag, self.sticks)

    def has_tag(self, tag: str, but: str = "") -> bool:
        """Whether a stick other than `but` has this tag, letter case and blanks at the ends aside."""
        return self.places.taken(tag, self.sticks, but)

    def part(self, name: str) -> Part | None:
        """The part with this name, or None."""
        return next((part for part in self.parts if part.name == name), None)

    def coupon(self, tag: str) -> Coupon | None:
        """The coupon with this tag, or None."""
        return next((coupon for coupon in self.coupons if coupon.tag == tag), None)
