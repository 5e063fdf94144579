"""The sheet of a stick, to print and to retrace with a pencil; its short form beside the Float pane.

The sticks are invented; every expected figure is one of the records it is printed from, or derived beside it.
"""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import ASH, SOUND, SPRUCE, WOODS, demo, reading, stick, typed

from bench import units
from bench.core import evidence, inspecting, limits, repeats, working_stick
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.holding import Point
from bench.core.inspecting import Judgement
from bench.core.judging import Judged, judge
from bench.core.records import Defect, Job, Settings, Species, Stick, TimedMark, Weighing, inches
from bench.library import load
from bench.sheets import brief, stick_sheet, working, writing_text
from bench.sheets import inspecting as words
from bench.sheets.paper import Sheet
from bench.units.showing import show

FIR = WOODS["douglas_fir_coast"]
JOB = Job("Tansy", invented=True)


def judged(held: Stick, wood: Species) -> Judged:
    return judge(held, wood, Settings())


def written(sheet: Sheet) -> tuple[str, ...]:
    return tuple(writing_text.lines(sheet))


def sheet(held: Stick, wood: Species, job: Job = JOB) -> tuple[str, ...]:
    return written(stick_sheet.sheet(judged(held, wood), wood, job))


def joined(lines: Iterable[str]) -> str:
    return " ".join(" ".join(lines).split())


def full() -> Stick:
    """Readings of three days, one twice and one set aside, a weighing twice, a split at the end."""
    first = reading(6.8, 6.85, moisture="19/200", angle="", taken="2031-05-01")
    first = replace(
        first,
        side=units.read("length", "1/2"),
        length=units.read("length", "5"),
        moisture=units.read("moisture", "9.5"),
        water=units.read("temperature", "68 F"),
    )
    piece = Weighing(
        units.read("mass", "13.345 g"), first.side, first.side, first.length, first.moisture, "2031-05-02"
    )
    return replace(
        stick("A-1"),
        readings=(
            replace(first, aside="slipped in the tube"),
            replace(first, timed=(TimedMark(60.0, 6.825),)),
            replace(first, marks=(6.7,), angle="55", seconds=45.0, taken="2031-05-03"),
            replace(first, marks=(6.75,), angle="none", taken="2031-05-03"),
        ),
        weighings=(replace(piece, mass=units.read("mass", "14 g")), piece),
        defects=(Defect(inches("40"), inches("48"), limits.SPLIT),),
    )


# --- the verdicts first ---------------------------------------------------------------------------------


def test_the_verdict_for_each_use_comes_before_all_else_then_gravity_alone() -> None:
    held = stick("A", 6.8, inspection=replace(SOUND, edge_grain=None, bow=None))
    lines = sheet(held, ASH)
    assert lines[3:5] == ("small part ACCEPT, spar flange HOLD, solid spar HOLD", "by gravity alone ACCEPT")
    rejected = sheet(stick("A", 4.0), ASH)
    assert rejected[3:5] == (
        "small part REJECT, spar flange REJECT, solid spar REJECT",
        "by gravity alone REJECT",
    )


def test_what_is_cut_round_is_never_a_bare_accept() -> None:
    lines = sheet(full(), ASH)
    assert lines[3:6] == (
        "small part ACCEPT (1 cut round)",
        "spar flange ACCEPT (1 cut round)",
        "solid spar ACCEPT (1 cut round)",
    )
    assert lines.count("  ACCEPT but for what is cut round: split 40 in to 48 in") == len(limits.USES)
    assert "As small part: ACCEPT, 1 cut round" in lines
    assert not [line for line in lines if line.startswith("  ACCEPT  split")]


def test_the_class_is_named_and_so_is_that_none_was_given() -> None:
    of_class = replace(stick("F", 5.4, species=FIR.key), variant="class L")
    assert f"Stick F: {FIR.name}, class L" in sheet(of_class, FIR)
    assert f"Inspection of F, {FIR.name}, class L, " in joined(sheet(of_class, FIR))
    assert f"Stick F: {FIR.name}, class or region not given" in sheet(replace(of_class, variant=""), FIR)
    assert "Stick A: white ash" in sheet(stick("A", 6.8), ASH)


# --- retraced with a pencil -----------------------------------------------------------------------------


def test_every_reading_has_its_number_and_all_it_starts_from() -> None:
    lines = stick_sheet.gravity_page(judged(full(), ASH), ASH)
    rows = [
        line.split() for line in lines if line.startswith("  ") and " 2031-05-0" in line and "+/-" in line
    ]
    assert [row[:2] for row in rows] == [
        ["1", "2031-05-01"],
        ["2", "2031-05-01"],
        ["3", "2031-05-03"],
        ["4", "2031-05-03"],
    ]
    text = joined(lines)
    assert text.count("stick 1/2 in x 5 in, 10 marks; moisture 9.5 %; bath 68 F; read after 30 s") == 3
    assert "bath 68 F; read after 45 s; contact angle 55 deg (as typed)" in text
    assert "contact angle 60 deg (common practice, no published source)" in text
    assert "no contact angle" in text
    shrinkage = ASH.find("shrinkage_volumetric")
    assert shrinkage is not None
    assert f"shrinkage {float(shrinkage.printed):.2f} % ({shrinkage.source} {shrinkage.where})" in text
    assert "later on the first face: 60 s 6.825" in text, "all digits that were read"
    assert "1 2031-05-02 14 g 1/2 in x 1/2 in x 5 in 9.5 % a later one" in text
    assert "2 2031-05-02 13.345 g 1/2 in x 1/2 in x 5 in 9.5 %" in text


def test_the_contact_angle_and_a_shrinkage_of_the_species_have_their_source() -> None:
    text = joined(sheet(stick("S", 4.4, species=SPRUCE.key), SPRUCE))
    assert "no contact angle" in text  # the reading was taken without a correction
    own = replace(stick("S", species=SPRUCE.key), readings=(reading(4.4, angle=""),))
    angle = SPRUCE.find("contact_angle")
    assert angle is not None
    said = joined(sheet(own, SPRUCE))
    assert f"contact angle {angle.printed} deg ({angle.source} {angle.where}" in said
    guessed = WOODS["white_spruce"]
    estimated = replace(stick("S", 4.4), species=guessed.key)
    assert "ESTIMATE from green gravity, wh282 eq. 4-12" in joined(sheet(estimated, guessed))


@pytest.mark.parametrize(("marks", "edge"), [((6.8,), "lowest likely "), ((4.0,), "highest likely ")])
def test_the_edge_that_decides_stands_in_the_line_of_the_gravity(marks: tuple[float, ...], edge: str) -> None:
    found = judged(stick("A", *marks), ASH)
    verdict = found.verdict
    assert verdict.low is not None and verdict.high is not None
    value = units.gravity_down(verdict.low) if "lowest" in edge else units.gravity_up(verdict.high)
    points = [line for line in sheet(stick("A", *marks), ASH) if "  gravity 0." in line]
    assert len(points) == len(limits.USES)
    text = joined(sheet(stick("A", *marks), ASH))
    assert text.count(f"{edge}{value}") >= len(limits.USES)


def test_an_upper_limit_shows_the_upper_edge() -> None:
    held = replace(stick("F", 5.0, species=FIR.key), variant="class L")
    high = judged(held, FIR).verdict.high
    assert high is not None
    assert f"highest likely {units.gravity_up(high)}, 0." in joined(sheet(held, FIR))


def test_no_limit_stands_twice_under_a_point() -> None:
    for held in demo().job.sticks:
        lines = sheet(held, WOODS[held.species], demo().job)
        start = lines.index("As small part: " + next(x for x in lines if x.startswith("As small"))[15:])
        for above, below in zip(lines[start:], lines[start + 1 :], strict=False):
            if above.startswith("  ") and below.startswith(" " * 10) and below.strip():
                assert below.strip() not in above, held.tag


def test_the_whole_working_stands_at_the_end() -> None:
    lines = sheet(full(), ASH)
    steps = working_stick.of_stick(judged(full(), ASH), ASH)
    titles = [step.title for step in steps]
    for title in (
        "submerged share",
        "density over water at 4 C, as it is",
        "readings together",
        "float test against weight and size",
        "place in the species, an ESTIMATE",
        "the stick's gravity over the species'",
    ):
        assert title in titles, title
    text = joined(lines)
    assert joined(working.lines(steps)) in text
    assert "m = 13.345 g" in text, "the mass as it was typed"


def test_nothing_measured_has_no_working() -> None:
    assert working_stick.of_stick(judged(stick("A"), ASH), ASH) == ()
    unknown = stick("A", 6.8, species="mallorn")
    assert working_stick.of_stick(judge(unknown, None, Settings()), None) == ()
    assert "Working" not in joined(written(stick_sheet.sheet(judge(unknown, None, Settings()), None, JOB)))


def test_an_estimate_that_is_refused_leaves_the_rest_of_the_working() -> None:
    kept = ("specific_gravity_minimum", "shrinkage_volumetric")
    bare = Species(ASH.key, ASH.name, ASH.kind, tuple(one for one in ASH.figures if one.quantity in kept))
    titles = [step.title for step in working_stick.of_stick(judged(stick("A", 6.8), bare), bare)]
    assert "submerged share" in titles and "the stick's gravity over the species'" not in titles


def test_the_titles_of_the_sources_and_the_day_are_on_it_where_they_are_handed_in() -> None:
    sources = load().sources
    corrected = replace(full(), readings=full().readings[:2])
    lines = written(stick_sheet.sheet(judged(corrected, ASH), ASH, JOB, "2031-06-01", sources))
    assert lines[1].endswith(", 2031-06-01")
    rest = joined(lines[lines.index("Sources") :])
    for key in ("anc19", "wh282", "wh190", "tanaka2001", "iapws1994"):
        assert f"{key} {' '.join(sources[key].title.split())}" in rest
    unnamed = [key for key in sources if key not in joined(lines[: lines.index("Sources")])]
    assert unnamed and not [key for key in unnamed if f" {key} " in rest]
    assert "Sources" not in sheet(full(), ASH)


@pytest.mark.parametrize("system", ["in", "mm"])
def test_no_line_is_wider_than_78(system: str) -> None:
    job = replace(demo().job, name="A long name of a job " * 8, settings=Settings(units=system))
    sources = load().sources
    for held in (*job.sticks, full(), replace(full(), tag="T" * 40, note="n" * 100)):
        wood = WOODS[held.species]
        found = judge(held, wood, job.settings)
        lines = written(stick_sheet.sheet(found, wood, job, "2031-06-01", sources))
        assert [line for line in lines if len(line) > 78 or line != line.rstrip()] == []
        assert all(line.isprintable() for line in lines)


# --- masses ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", ["in", "mm"])
@pytest.mark.parametrize(
    ("mass", "said"),
    [
        ("9.8 g", "9.80 g"),
        ("13.345 g", "13.345 g"),
        ("999.99 g", "999.99 g"),
        ("0.3 oz", "8.5049 g"),  # 1 oz is 28.349523125 g: NIST SP 811, app. B.8
    ],
)
def test_a_small_mass_is_in_grams_as_a_balance_shows_it(mass: str, said: str, system: str) -> None:
    assert show("mass", units.read("mass", mass).si, system) == said


def test_a_large_mass_keeps_the_unit_of_the_shop() -> None:
    """1 lb is 0.45359237 kg: NIST SP 811, app. B.8."""
    assert show("mass", 4.5359237, "in") == "10.0000 lb"
    assert show("mass", 4.5359237, "mm") == "4535.9237 g"


# --- in short, beside the Float pane --------------------------------------------------------------------


def judgement(use: str, word: str, name: str, around: int) -> Judgement:
    defect = Defect(typed("1"), typed("1"), name) if name in limits.KINDS else None
    point = Point(name, word, inspecting.OUTSIDE, defect=defect)
    stretch = Defect(typed("1"), typed("1"), limits.SPLIT)
    return Judgement(use, word, (point,), point, (stretch,) * around)


@pytest.mark.parametrize("name", [*inspecting.POINTS, *limits.KINDS])
@pytest.mark.parametrize("word", [ACCEPT, HOLD, REJECT])
@pytest.mark.parametrize("around", [0, 1, 12])
def test_no_use_is_cut_on_the_screen(name: str, word: str, around: int) -> None:
    base = judged(stick("A", 6.8), ASH)
    for least in range(len(limits.USES)):
        words_of = {
            use: judgement(use, word if place >= least else ACCEPT, name, around)
            for place, use in enumerate(limits.USES)
        }
        lines = brief.uses(replace(base, uses=words_of))
        assert lines and max(map(len, lines)) <= brief.WIDTH == 34, lines
        assert all(one.count(" ") >= 2 and word.upper() in joined(lines) for one in lines)


def test_uses_say_what_is_cut_round() -> None:
    base = judged(stick("A", 6.8), ASH)
    same = {use: judgement(use, ACCEPT, inspecting.LOOKED, 2) for use in limits.USES}
    assert brief.uses(replace(base, uses=same)) == ("every use ACCEPT, 2 cut round",)
    differing = same | {limits.SOLID_SPAR: judgement(limits.SOLID_SPAR, ACCEPT, inspecting.LOOKED, 0)}
    assert brief.uses(replace(base, uses=differing)) == (
        "small part ACCEPT, 2 cut round",
        "spar flange ACCEPT, 2 cut round",
        "solid spar ACCEPT",
    )
    sound = {use: judgement(use, ACCEPT, inspecting.LOOKED, 0) for use in limits.USES}
    assert brief.uses(replace(base, uses=sound)) == ("every use ACCEPT",)
    held = {use: judgement(use, HOLD, inspecting.SLOPE, 0) for use in limits.USES}
    assert brief.uses(replace(base, uses=held)) == ("every use HOLD, slope",)


CODES = (
    evidence.THICKER,
    evidence.OPPOSITE_FACE,
    evidence.FOUR_FACES,
    evidence.SOONER,
    evidence.TIMED,
    evidence.OVEN,
    evidence.ANGLE,
    evidence.DRY,
)
CAUSES = (
    *("reading", "faces", "meniscus", "tilt", "soaking", "moisture", "shrinkage", "water"),
    *("mass", "width", "depth", "length", repeats.SPREAD),
)


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("cause", CAUSES)
def test_no_line_beside_the_gravity_is_cut_on_the_screen(
    code: str, cause: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With every figure as wide as it can be."""
    found = judged(full(), ASH)
    assert found.found.measured is not None
    alone = replace(found.found.measured, shares=((cause, 0.01),), uncertainty=0.01)
    wide = replace(found, found=replace(found.found, measured=alone))
    monkeypatch.setattr(brief, "advice", lambda *_: (evidence.Advice(code, 0.025, 0.0199),))
    monkeypatch.setattr(
        brief, "standing", lambda *_: replace(evidence.standing(alone, ASH), z=4.0, percentile=99.99)
    )
    lines = brief.gravity(wide, ASH)
    assert max(map(len, lines)) <= brief.WIDTH, lines
    assert lines[-1].startswith("+/- 0.020: ") and any("100 %" in one for one in lines)


def test_the_shortened_advice_says_what_the_long_one_says() -> None:
    """A thicker stick narrows the band: the line must not be read as a thinner one."""
    held = replace(stick("A", 6.8), readings=(reading(6.8, 6.8, 6.8, 6.8, angle=""),))
    lines = brief.gravity(judged(held, ASH), ASH)
    assert lines[-1].endswith(": stick 1.5 x as thick")
    thicker = replace(held.readings[0], side=typed(Fraction("0.0127") * Fraction(3, 2)))
    thicker = replace(thicker, length=typed(held.readings[0].length.exact * Fraction(3, 2)))
    narrower = judged(replace(held, readings=(thicker,)), ASH).found.measured
    assert narrower is not None
    assert units.gravity_up(narrower.half_width) in lines[-1]


def test_every_kind_keeps_its_name_on_the_sheet() -> None:
    named = {words.point_name(judgement(limits.SMALL_PART, HOLD, kind, 0).deciding) for kind in limits.KINDS}
    assert len(named) == len(limits.KINDS)
