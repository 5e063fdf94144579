"""Coupons of a job and coupons of a file are worked out by one source, and refused by it alike."""

import pytest

from bench.core import break_groups, sampled, samples
from bench.core.errors import Refusal
from bench.core.sampled import Sampled
from bench.headless import break_compare

VALUES = (9.8, 10.4, 11.3, 10.1)
OTHER = (8.1, 8.8, 8.3, 9.0)


def of_file(values: tuple[float, ...]) -> break_compare.Group:
    return break_compare.Group("ash", values, None)


def of_job(values: tuple[float, ...]) -> break_groups.Group:
    return break_groups.Group("ash", "ash", "", "rupture", (), values, False, False, (), None)


@pytest.mark.parametrize("group", [of_file, of_job])
def test_a_group_says_what_the_laws_say(group) -> None:
    found = group(VALUES)
    assert (found.mean, found.deviation) == (samples.mean(VALUES), samples.deviation(VALUES))
    assert found.limit == samples.lower_limit(VALUES)
    assert group((9.8,)).deviation is None and isinstance(group((9.8, 10.0)).limit, Refusal)


@pytest.mark.parametrize("kind", [break_compare.Group, break_groups.Group])
def test_no_group_works_it_out_by_itself(kind: type) -> None:
    assert issubclass(kind, Sampled)
    assert not {"mean", "deviation", "limit"} & set(vars(kind))


def test_what_would_settle_two_groups_is_of_both_alike() -> None:
    welch = samples.welch(VALUES, OTHER)
    counts = {sampled.needed(group(VALUES), group(OTHER), welch) for group in (of_file, of_job)}
    spreads = samples.deviation(VALUES), samples.deviation(OTHER)
    assert counts == {samples.coupons_to_settle(welch.difference, *spreads)}
