"""What holds for every stick judged for a use, whatever was measured on it."""

from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import ASH, SPRUCE, typed
from hypothesis import given
from hypothesis import settings as effort
from hypothesis import strategies as st

from bench.core import acceptance, limits
from bench.core.acceptance import ACCEPT, HOLD, REJECT, Verdict
from bench.core.defects import KEPT_IN
from bench.core.holding import worst
from bench.core.inspecting import judge_use
from bench.core.limits import AC4313, ANC19, KINDS, SMALL_PART, SOLID_SPAR, USES
from bench.core.records import Defect, House, Inspection, Settings, Stick, Typed, inches
from bench.sheets import inspecting as words
from bench.sheets import working
from tests.tools.inspected import FIGURE, GOOD, one_in, per_inch, seen_as

RANK = {ACCEPT: 0, HOLD: 1, REJECT: 2}


maybe = st.none()
hundredths = st.integers(0, 500).map(lambda count: inches(str(Fraction(count, 100))))
KIND = st.sampled_from(("", *KINDS))


@st.composite
def defects(draw: st.DrawFn) -> Defect:
    start = draw(st.integers(0, 950))
    end = start + draw(st.integers(0, 60))
    lengths = [draw(maybe | hundredths) for _ in range(3)]
    return Defect(inches(str(Fraction(start, 10))), inches(str(Fraction(end, 10))), draw(KIND), *lengths)


slopes = st.just(Typed(Fraction(0), "straight")) | st.integers(1, 60).map(lambda run: one_in(str(run)))
shares = st.integers(0, 100).map(lambda part: typed(Fraction(part, 100)))
inspections = st.builds(
    Inspection,
    rings=maybe | st.integers(0, 30).map(lambda count: per_inch(str(count))),
    slope_one=maybe | slopes,
    slope_two=maybe | slopes,
    edge_grain=maybe | shares,
    bow=maybe | hundredths,
    bow_over=maybe | st.integers(1, 120).map(lambda length: inches(str(length))),
    looked=st.booleans(),
)
sides = st.integers(10, 60).map(lambda tenths: inches(str(Fraction(tenths, 10))))
sticks = st.builds(
    Stick,
    tag=st.just("T"),
    species=st.just("sitka_spruce"),
    length=st.just(inches("96")),
    width=sides,
    depth=sides,
    moisture=maybe | st.integers(0, 30).map(lambda percent: typed(Fraction(percent, 100))),
    defects=st.lists(defects(), max_size=4).map(tuple),
    inspection=inspections,
)
bands = st.tuples(st.floats(0.3, 0.5), st.floats(0, 0.05)).map(
    lambda pair: Verdict(
        *acceptance._word(pair[0] - pair[1], pair[0] + pair[1], FIGURE, None)[:1],
        ("of a band",),
        pair[0],
        pair[0] - pair[1],
        pair[0] + pair[1],
        FIGURE,
    )
)
verdicts = st.just(GOOD) | st.just(Verdict(HOLD, ("not_read",), minimum=FIGURE)) | bands
houses = st.builds(
    House,
    gravity_over=maybe | shares,
    rings=maybe | st.integers(0, 30).map(lambda count: per_inch(str(count))),
    slope=maybe | slopes,
    moisture_low=maybe | shares,
    moisture_high=maybe | shares,
    knot=maybe | hundredths,
)
DOCUMENT = st.sampled_from(("stricter", ANC19, AC4313))
USE = st.sampled_from(USES)
WOOD = st.sampled_from((SPRUCE, ASH, None))


@effort(max_examples=80, deadline=None)
@given(sticks, WOOD, verdicts, USE, DOCUMENT, houses, st.sampled_from(("in", "mm")))
def test_every_stick_is_judged_and_told(stick, wood, verdict, use, document, house, system) -> None:
    judgement = judge_use(stick, wood, verdict, use, Settings(document=document, house=house))
    assert judgement.word == worst(one.word for one in judgement.points) == judgement.deciding.word
    assert [one.defect for one in judgement.points if one.defect] == list(stick.defects)
    for one in judgement.points:
        assert sum(held.governs for held in one.held) == (1 if one.held else 0)
        for text in (words.point_line(one, system), words.reason(one, system)):
            assert text.isascii() and "\n" not in text and "None" not in text and "  " not in text
        if one.margin is not None and one.margin < -1e-9:
            assert one.word != ACCEPT or one.reason == "cut_round"
    assert "nan" not in "\n".join(working.lines(words.steps(judgement), system))


@effort(max_examples=60, deadline=None)
@given(sticks, WOOD, verdicts, USE, DOCUMENT)
def test_what_is_not_measured_is_never_accepted(stick, wood, verdict, use, document) -> None:
    judgement = judge_use(stick, wood, verdict, use, Settings(document=document))
    seen_there = stick.inspection
    needed = [seen_there.slope_one, seen_there.slope_two, stick.moisture, verdict.value]
    # No document asks a number of rings of white ash.
    needed += [] if wood is ASH else [seen_there.rings]
    needed += [seen_there.bow] if use != SMALL_PART else []
    needed += [seen_there.edge_grain] if use == SOLID_SPAR else []
    if None in needed or not seen_there.looked or any(one.kind == "" for one in stick.defects):
        assert judgement.word != ACCEPT


@effort(max_examples=60, deadline=None)
@given(sticks, defects(), verdicts, USE, DOCUMENT, houses)
def test_another_defect_never_improves_the_word(stick, defect, verdict, use, document, house) -> None:
    settings = Settings(document=document, house=house)
    before = judge_use(stick, SPRUCE, verdict, use, settings)
    after = judge_use(replace(stick, defects=(*stick.defects, defect)), SPRUCE, verdict, use, settings)
    assert RANK[after.word] >= RANK[before.word]


def longest_clear(defects: tuple[Defect, ...], length: int) -> int:
    """Longest run of tenths of an inch that no defect touches, counted one by one."""
    tenth = Fraction(254, 100_000)
    spans = [sorted((one.start.exact / tenth, one.end.exact / tenth)) for one in defects]
    longest = run = 0
    for at in range(length):
        taken = any(low <= at and at + 1 <= high for low, high in spans)
        parted = any(low <= at <= high for low, high in spans)  # even where it has no length
        run = 0 if taken else 1 if parted else run + 1
        longest = max(longest, run)
    return longest


@effort(max_examples=50, deadline=None)
@given(sticks, st.lists(defects(), max_size=12).map(tuple), USE, DOCUMENT, st.integers(0, 960))
def test_the_clear_length_is_the_longest_run_between_what_is_cut_round(
    stick, defects, use, document, least
) -> None:
    settings = Settings(document=document, least_offcut=inches(str(Fraction(least, 10))))
    judgement = judge_use(replace(stick, defects=defects), SPRUCE, GOOD, use, settings)
    clear = [one for one in judgement.points if one.name == "clear"]
    around = [one for one in defects if one.kind not in KEPT_IN]
    assert bool(clear) == bool(around)
    if clear:
        longest = longest_clear(around, 960)
        assert clear[0].measured == pytest.approx(longest * 0.00254, abs=1e-12)
        assert clear[0].word == (ACCEPT if longest and longest >= least else REJECT)


MEASURED = ("rings", "slope_one", "slope_two", "edge_grain", "bow")


@effort(max_examples=60, deadline=None)
@given(
    sticks, verdicts, USE, DOCUMENT, houses, st.sampled_from((*MEASURED, "moisture", "size", "depth", "edge"))
)
def test_a_measurement_taken_away_never_makes_an_accept(stick, verdict, use, document, house, name) -> None:
    """Taking away what rejects leaves a hold. Without `bow_over` the bow is over the whole stick."""
    settings = Settings(document=document, house=house)
    before = judge_use(stick, SPRUCE, verdict, use, settings)
    if name == "moisture":
        less = replace(stick, moisture=None)
    elif name in MEASURED:
        less = seen_as(stick, **{name: None})
    else:
        less = replace(stick, defects=tuple(replace(one, **{name: None}) for one in stick.defects))
    after = judge_use(less, SPRUCE, verdict, use, settings)
    assert after.word != ACCEPT or before.word == ACCEPT
    assert len(after.cut_round) >= len(before.cut_round)


@effort(max_examples=60, deadline=None)
@given(sticks, WOOD, verdicts, USE, DOCUMENT, houses)
def test_the_house_never_rescues(stick, wood, verdict, use, document, house) -> None:
    plain = judge_use(stick, wood, verdict, use, Settings(document=document))
    own = judge_use(stick, wood, verdict, use, Settings(document=document, house=house))
    assert RANK[own.word] >= RANK[plain.word]
    assert len(own.cut_round) >= len(plain.cut_round)


@effort(max_examples=50, deadline=None)
@given(sticks, verdicts, USE, houses)
def test_the_stricter_is_as_strict_as_either(stick, verdict, use, house) -> None:
    by = {
        document: judge_use(stick, SPRUCE, verdict, use, Settings(document=document, house=house))
        for document in ("stricter", ANC19, AC4313)
    }
    for document in limits.DOCUMENTS:
        assert RANK[by["stricter"].word] >= RANK[by[document].word]
        assert len(by["stricter"].cut_round) >= len(by[document].cut_round)
