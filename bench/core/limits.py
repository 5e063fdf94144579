"""What the published documents permit a stick to have, for what it becomes; each limit with its source.

Limits that belong to a species (specific gravity, growth rings, the slope that a table names it with) stand
in its file. Left out, as joints are the drawing's business and nothing here is bent: slope and spacing of
scarfs, moisture between laminations, bend radius. Left out as well: at which slope design values
hold, and second-hand words.
"""

from fractions import Fraction

from bench.core.frozen import record
from bench.core.quantities import DATA_UNITS

SMALL_PART, SPAR_FLANGE, SOLID_SPAR = "small_part", "spar_flange", "solid_spar"
USES = (SMALL_PART, SPAR_FLANGE, SOLID_SPAR)

ANC19, AC4313 = "anc19", "ac4313"  # keys of the bibliography
DOCUMENTS = (ANC19, AC4313)
STRICTER = "stricter"

# Kinds of defect that can be entered.
KNOT, SPIKE_KNOT, PIN_KNOTS = "knot", "spike_knot", "pin_knots"
PITCH_POCKET, BARK_POCKET = "pitch_pocket", "bark_pocket"
CHECK, SHAKE, SPLIT = "check", "shake", "split"
COMPRESSION_WOOD, COMPRESSION_FAILURE = "compression_wood", "compression_failure"
DECAY, GRAIN_WAVE = "decay", "grain_wave"
MINERAL_STREAK, SAPWOOD, INDENTED_RINGS = "mineral_streak", "sapwood", "indented_rings"
OTHER = "other"
KINDS = (
    KNOT,
    SPIKE_KNOT,
    PIN_KNOTS,
    PITCH_POCKET,
    BARK_POCKET,
    CHECK,
    SHAKE,
    SPLIT,
    COMPRESSION_WOOD,
    COMPRESSION_FAILURE,
    DECAY,
    GRAIN_WAVE,
    MINERAL_STREAK,
    SAPWOOD,
    INDENTED_RINGS,
    OTHER,
)


@record
class Limit:
    """One limit as printed. `value` is exact and in SI; None where the rule is words."""

    name: str
    document: str  # key of the bibliography
    uses: tuple[str, ...]
    printed: str
    unit: str  # as printed; "words" where the rule is words
    quantity: str  # a name of quantities.QUANTITIES; empty where the rule is words
    where: str  # section, table or note
    condition: str
    value: Fraction | None
    memory: bool = False  # only partly legible or recalled: never decides about a stick

    @property
    def exact(self) -> Fraction:
        """The value in SI [SI unit of the quantity]; raises ValueError where the rule is words."""
        if self.value is None:
            raise ValueError(f"{self.name} is a rule of words")
        return self.value


_SPARS = (SPAR_FLANGE, SOLID_SPAR)
_FLANGE, _SOLID, _SMALL = (SPAR_FLANGE,), (SOLID_SPAR,), (SMALL_PART,)
_TIMES = ("x length", "fraction")  # units without a dimension
# The formula of sec. 2.42001 with L and h in inches is L^2 / (20000 h) in any one unit of length.
_BOW = Fraction(1, 20_000)

_N1C, _N1E, _REJECTS = "table 1-1 note 1c", "table 1-1 note 1e", "table 1-1 notes 2e, 2h-2k"
_CENTRE = "centre portion of the beam only"
_EDGE_FACE = "edge-grained face over 1 in"

_ROWS = (
    # name, document, uses, printed, unit, quantity, where, condition
    ("slope", ANC19, USES, "1:15", "ratio", "slope", "sec. 2.4100", "combined, to the long axis"),
    ("slope_tapered", ANC19, USES, "1:15", "ratio", "slope", "sec. 2.4100",
     "tapered member in tension: to the centre line of the most stressed tension face"),
    ("slope_middle_half", ANC19, _SOLID, "1:10", "ratio", "slope", "sec. 2.4100",
     "middle half of the depth of a solid or laminated spar"),
    ("slope_neglect", ANC19, USES, "1:21", "ratio", "slope", "sec. 2.4102, table 2-11",
     "nothing need be combined where neither slope is steeper"),
    ("wave_outer_eighth", ANC19, _SOLID, "not permitted", "words", "", "sec. 2.4101",
     "deviation over 1:15 in the outer eighth of the depth"),
    ("wave_next_eighth", ANC19, _SOLID, "usually tolerable", "words", "", "sec. 2.4101",
     "a wave in a few growth layers in the eighth beside the outer one"),
    ("wave_flange", ANC19, _FLANGE, "permitted", "words", "", "sec. 2.4101",
     "only in the inner quarter of the flange's depth"),
    ("moisture_low", ANC19, USES, "8", "%", "moisture", "sec. 2.412", "at fabrication, average of the piece"),
    ("moisture_high", ANC19, USES, "12", "%", "moisture", "sec. 2.412",
     "at fabrication, average of the piece"),
    ("moisture_low", AC4313, USES, "8", "%", "moisture", "par. 1-29 g", "in service, at inspection"),
    ("moisture_high", AC4313, USES, "16", "%", "moisture", "par. 1-29 g", "in service, at inspection"),
    ("moisture_preferred", AC4313, USES, "10 to 12", "words", "", "par. 1-29 g",
     "percent, in service, at inspection"),
    ("moisture_fungus", AC4313, USES, "20", "%", "moisture", "par. 1-28 a and 1-29 g",
     "above it fungus is likely"),
    ("knot_diameter", AC4313, USES, "0.375", "in", "length", _N1C,
     "sound hard knot whose turn of the grain is within the limit"),
    ("knot_place", AC4313, USES, "1/3", "fraction", "share", _N1C,
     "only in the centre third of the beam; not in projecting parts or at edges of beams and box flanges"),
    ("knot_spacing", AC4313, USES, "20", "in", "length", _N1C,
     "from a 3/8 in knot to another knot or defect; smaller knots pro rata closer"),
    ("knot_caution", AC4313, USES, "0.25", "in", "length", _N1C, "larger knots are used with caution"),
    ("pin_knots", AC4313, USES, "permitted", "words", "", "table 1-1 note 1d",
     "small cluster with small effect on the direction of the grain"),
    ("pocket_spacing", AC4313, USES, "14", "in", "length", _N1E, "in the same growth ring"),
    ("pocket_length", AC4313, USES, "1.5", "in", "length", _N1E, _CENTRE),
    ("pocket_width", AC4313, USES, "0.125", "in", "length", _N1E, _CENTRE),
    ("pocket_depth", AC4313, USES, "0.125", "in", "length", _N1E, _CENTRE),
    (MINERAL_STREAK, AC4313, USES, "permitted", "words", "", "table 1-1 note 1f",
     "if inspection shows no decay"),
    *(
        (kind, AC4313, USES, "reject", "words", "", _REJECTS, "any")
        for kind in (SPIKE_KNOT, CHECK, SHAKE, SPLIT, COMPRESSION_WOOD, COMPRESSION_FAILURE)
    ),
    (DECAY, AC4313, USES, "reject", "words", "", _REJECTS, "rot, dote, red heart, purple heart"),
    (SAPWOOD, ANC19, USES, "not a defect", "words", "", "sec. 2.415", "bright sapwood"),
    (INDENTED_RINGS, ANC19, USES, "not a defect", "words", "", "sec. 2.416", "bear scratches"),
    (DECAY, ANC19, USES, "reject", "words", "", "sec. 2.417",
     "rot, dote, red heart, purple heart; natural colour in sound yellow-poplar excepted"),
    *(
        (kind, ANC19, USES, "reject", "words", "", "sec. 2.418", "any")
        for kind in (SHAKE, SPLIT, COMPRESSION_FAILURE)
    ),
    ("compression_wood_broken", ANC19, USES, "reject", "words", "", "sec. 2.4190", "with cross breaks"),
    ("knot_ignored", ANC19, USES, "0.0625", "in", "length", "sec. 2.4201 and 2.4252",
     "smaller knots count in sums only; the fraction is only partly legible"),
    ("knot_size", ANC19, USES, "size", "words", "", "sec. 2.4201",
     "between lines round the knot, parallel to the edges of the face"),
    ("knot_least", ANC19, USES, "diameter", "words", "", "sec. 2.4201",
     "least distance between parallel lines in any direction round the knot"),
    ("streak_width", ANC19, _SPARS, "0.25", "in", "length", "sec. 2.4202",
     "spar edge, outer quarter of the vertical face, or surface of a flange"),
    ("streaks_outer", ANC19, _SPARS, "1/6", "fraction", "share", "sec. 2.4202",
     "together, of the spar's thickness or the flange's depth, whichever is less"),
    ("streaks_middle", ANC19, _SOLID, "1/10", "fraction", "share", "sec. 2.4202",
     "together, middle half of the depth, of the depth"),
    ("edge_grain", ANC19, _SOLID, "2/3", "fraction", "share", "sec. 2.4211, 2.402",
     "both vertical faces, of the depth; rings at 45 deg or more to the wide face"),
    ("pocket_length", ANC19, _SOLID, "2", "in", "length", "sec. 2.4213", "and no more than 4 edge distances"),
    ("pocket_length_edges", ANC19, _SOLID, "4", "x length", "share", "sec. 2.4213",
     "times the distance from a corner"),
    ("pocket_spacing_lengths", ANC19, _SOLID, "6", "x length", "share", "sec. 2.4213",
     "same face; times the shorter pocket, the longer one in the same growth layer"),
    ("pocket_depth_share", ANC19, _FLANGE, "1/8", "fraction", "share", "sec. 2.4243",
     "of the flange's dimension in that direction"),
    ("pocket_thin", ANC19, _SMALL, "not permitted", "words", "", "sec. 2.4263", "under 1 in either way"),
    ("pocket_depth_share", ANC19, _SMALL, "1/8", "fraction", "share", "sec. 2.4263",
     f"{_EDGE_FACE}; of the dimension in that direction"),
    ("pocket_width_share", ANC19, _SMALL, "1/8", "fraction", "share", "sec. 2.4263",
     f"{_EDGE_FACE}; of its width"),
    ("pocket_length", ANC19, _SMALL, "2", "in", "length", "sec. 2.4263", "and no more than 4 edge distances"),
    ("pocket_length_edges", ANC19, _SMALL, "4", "x length", "share", "sec. 2.4263",
     "times the distance from the edge"),
    ("knot_diameter", ANC19, _SMALL, "1/8", "fraction", "share", "sec. 2.4262",
     "middle half of a flat-sawn face, of its width"),
    ("compression_wood_thin", ANC19, _SMALL, "not permitted", "words", "", "sec. 2.4264",
     "under 1 in either way"),
    ("streak_width", ANC19, _SMALL, "1/20", "fraction", "share", "sec. 2.4264", "of the face's width"),
    ("streaks_together", ANC19, _SMALL, "1/10", "fraction", "share", "sec. 2.4264", "of the face's width"),
    ("bow", ANC19, _SPARS, "(L/100)^2/(2h)", "in", "length", "sec. 2.42001",
     "finished spar or flange before gluing; L over which it bows, h in the direction of bow"),
    ("bow_example", ANC19, _SPARS, "0.93", "in", "length", "sec. 2.42002",
     "192 in long, 1 in deep; divided by the depth for other depths"),
)  # fmt: skip


def _value(name: str, printed: str, unit: str) -> Fraction | None:
    if unit == "words":
        return None
    if name == "bow":
        return _BOW
    if ":" in printed:
        rise, _, run = printed.partition(":")
        return Fraction(rise) / Fraction(run)
    return Fraction(printed) * (1 if unit in _TIMES else DATA_UNITS[unit][1])


LIMITS = tuple(
    Limit(*row, value=_value(row[0], row[3], row[4]), memory=row[0] == "knot_ignored") for row in _ROWS
)
_BY_NAME = {(limit.name, limit.document, use): limit for limit in LIMITS for use in limit.uses}


def limit(name: str, document: str, use: str) -> Limit:
    """One limit.

    Args:
        name: of the limit.
        document: a name of DOCUMENTS.
        use: a name of USES.
    Returns:
        The row; KeyError where the document has none for that use.
    Source:
        named in the row.
    """
    return _BY_NAME[name, document, use]
