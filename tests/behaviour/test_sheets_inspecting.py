"""A point of the judgement in words: measured, limit and place, never shown weaker than it is."""

import re
from fractions import Fraction

import pytest
from core_cases import typed
from hypothesis import given
from hypothesis import settings as effort
from hypothesis import strategies as st

from bench.core.limits import KINDS, SOLID_SPAR, SPAR_FLANGE, USES
from bench.core.records import inches
from bench.sheets import inspecting as words
from tests.tools.inspected import found, judged, of_defect, one_in, point, seen_as


def test_names() -> None:
    assert [words.use_name(use) for use in USES] == ["small part", "spar flange", "solid spar"]
    assert words.kind_name("pitch_pocket") == "pitch pocket" and words.kind_name("") == "defect"
    letters = [words.letter(kind) for kind in (*KINDS, "")]
    assert len(set(letters)) == len(letters) and all(len(one) == 1 for one in letters)


def test_a_point_in_one_line() -> None:
    stick = seen_as(slope_one=one_in("15"), slope_two=one_in("15"))
    slope = point(judged(stick), "slope")
    assert words.point_line(slope) == "slope 1:10.6, limit 1:15 (ac4313 table 1-1, column 3 and note 1a)"
    assert words.reason(slope).endswith("resaw it along the grain and measure again, or take another stick")
    knot = of_defect(found("knot", size="1/2", edge="1"), use=SOLID_SPAR)
    said = words.reason(knot, "in")
    assert said == "knot at 40 in: cut round: size 0.500 in, limit 0.375 in (ac4313 table 1-1 note 1c)"
    # What the note asks beside its number and no field records: that the knot is sound and turns no grain.
    sound = of_defect(found("knot", size="1/4", edge="1"), use=SOLID_SPAR)
    assert words.point_line(sound).endswith("asks: sound, hard, the grain beside it within its limit")
    assert "12.7 mm, limit 9.5 mm" in words.reason(knot, "mm")
    assert "asks" not in words.point_line(slope), "of a defect only"


@effort(max_examples=50, deadline=None)
@given(st.integers(1, 3000), st.sampled_from(("in", "mm")))
def test_a_size_that_fails_never_reads_like_its_limit(step: int, system: str) -> None:
    """ac4313 table 1-1 note 1c: 3/8 in. A knot a few ten-thousandths over it is written with more digits."""
    size = Fraction(3, 8) + Fraction(step, 100_000)
    knot = of_defect(found("knot", size=str(size), edge="3/2"), use=SOLID_SPAR)
    shown, most = re.search(r"size ([\d.]+) \w+, limit ([\d.]+) ", words.reason(knot, system)).groups()
    assert float(shown) > float(most)
    assert float(shown) == pytest.approx(float(size) * (1 if system == "in" else 25.4), rel=0.006)


def test_a_share_that_fails_has_the_digits_for_it() -> None:
    """anc19 sec. 2.4211: two thirds, 66.7 % in three digits."""
    for share, shown in (("0.6665", "66.65 %"), ("0.664", "66.4 %"), ("0.70", "70.0 %")):
        edge_grain = point(judged(seen_as(edge_grain=typed(share)), SOLID_SPAR), "edge_grain")
        assert words.short_line(edge_grain) == f"edge grain {shown}, least 66.7 %"


def test_a_limit_is_never_shown_weaker_than_it_is() -> None:
    """0.93 in x (96/192)^2 / 3 = 0.0775 in: shown in full, never rounded up; mm: 1.9685 as 1.96."""
    bow = point(judged(seen_as(bow=inches("0.2")), SPAR_FLANGE), "bow")
    assert "limit 0.0775 in" in words.point_line(bow)
    assert "limit 1.96 mm" in words.point_line(bow, "mm")
    assert len([one for one in words.steps(judged(use=SOLID_SPAR)) if one.source]) == 6
