"""How a list orders and names its rows, and how a gravity and the uses of a stick fit a cell."""

from collections.abc import Sequence

import pytest

from bench.ui.gravity_scale import WIDTH, scale
from bench.ui.listing import Order, free_name, natural
from bench.ui.stock_rows import good_for


@pytest.mark.parametrize(
    ("values", "drawn"),
    [
        # Minimum 0.36 in column 3, average 0.40 in column 7: a column is 0.01. Counted by hand.
        ((0.365, None, None, 0.36, 0.40), "───█───┴─────"),
        ((0.3599, None, None, 0.36, 0.40), "──█┼───┴─────"),
        ((0.40, 0.385, 0.415, 0.36, 0.40), "───┼─==█=────"),
        ((0.30, 0.29, 0.31, 0.36, 0.40), "<──┼───┴─────"),
        ((0.60, 0.59, 0.61, 0.36, 0.40), "───┼───┴────>"),
        ((None, None, None, 0.36, 0.40), "───┼───┴─────"),
        ((0.36, None, None, 0.36, None), "───█─────────"),
        ((0.40, None, None, None, 0.40), "───────█─────"),
        ((0.40, None, None, None, None), " " * 13),
    ],
)
def test_a_gravity_on_its_scale(values: Sequence[float | None], drawn: str) -> None:
    assert scale(*values) == drawn
    assert len(drawn) == WIDTH


@pytest.mark.parametrize(
    ("words", "text"),
    [
        ("aaa", "all"),
        ("aah", "all but spar"),
        ("ahr", "small"),
        ("hrr", "HOLD"),
        ("rrr", "REJECT"),
        ("haa", "flange, spar"),
    ],
)
def test_what_a_stick_is_good_for_in_a_word(words: str, text: str) -> None:
    full = {"a": "accept", "h": "hold", "r": "reject"}
    uses = ("small_part", "spar_flange", "solid_spar")
    assert good_for(dict(zip(uses, (full[word] for word in words), strict=True)))[0] == text


def test_names_count_on() -> None:
    assert free_name("A-09", ("A-09", "a-10")) == "A-11"
    assert free_name("cap", ("cap", "cap 2")) == "cap 3"
    assert free_name("7", ()) == "8"
    assert sorted(("A-10", "a-9", "A-9b"), key=natural) == ["a-9", "A-9b", "A-10"]


def test_an_order_turns_round() -> None:
    keys = {0: 2.0, 1: None, 2: 1.0, 3: 2.0}
    rising = Order().turned("length")
    assert rising.arranged(keys, keys.__getitem__) == (2, 0, 3, 1)
    assert rising.turned("length").arranged(keys, keys.__getitem__) == (0, 3, 2, 1)
    assert rising.turned("length").turned("length") == Order()
    assert rising.turned("tag") == Order("tag")
