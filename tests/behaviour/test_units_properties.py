"""What must hold for every number: any unit gives the same value, and what is shown reads back."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench import units
from bench.core.errors import Refusal
from bench.core.resizing import round_up

INCH = Fraction("0.0254")
hundredths = st.integers(1, 500_000).map(lambda n: Fraction(n, 100))
sixty_fourths = st.integers(0, 64 * 240)
metres = st.floats(1e-4, 6.0)
grids = st.sampled_from([INCH / 64, INCH / 32, INCH / 16, INCH / 100, Fraction(1, 1000), Fraction(1, 2000)])


def decimal(value: Fraction) -> str:
    """A fraction whose decimals end, with all of them."""
    scaled = value * 10**9
    assert scaled.denominator == 1
    whole, rest = divmod(scaled.numerator, 10**9)
    return f"{whole}.{rest:09d}"


@given(hundredths)
def test_a_length_is_the_same_in_every_unit(millimetres: Fraction) -> None:
    forms = (
        f"{decimal(millimetres)} mm",
        f"{decimal(millimetres / 10)}cm",
        f"{decimal(millimetres / 1000)} m",
        f"{decimal(millimetres)}".replace(".", ",") + " mm",
        f"{decimal(millimetres)} millimetres",
    )
    assert {units.read("length", form).exact for form in forms} == {millimetres / 1000}


@given(sixty_fourths)
def test_a_length_is_the_same_in_every_way_of_writing_inches(count: int) -> None:
    whole, rest = divmod(count, 64)
    feet, over = divmod(whole, 12)
    fraction = f"{rest}/64"
    forms = [f"{count}/64", f"{whole} {fraction}", f"{whole}-{fraction} in", f'{whole} {fraction}"']
    forms += [
        f"{feet}' {over} {fraction}\"",
        f"{feet} ft {over} {fraction} in",
        f"{feet}'-{over}-{fraction}\"",
    ]
    forms += [decimal(Fraction(count, 64)), f"{decimal(Fraction(count, 64) / 12 * 3)} feet"]
    values = [units.read("length", form).exact for form in forms]
    assert values == [count * INCH / 64] * (len(forms) - 1) + [3 * count * INCH / 64]


@given(st.integers(-45_900, 50_000).map(lambda n: Fraction(n, 100)))
def test_a_temperature_is_the_same_on_every_scale(fahrenheit: Fraction) -> None:
    kelvin = units.read("temperature", f"{float(fahrenheit):.2f} F").exact
    rankine = fahrenheit + Fraction("459.67")
    assert kelvin * 9 == rankine * 5
    hundredth = round(kelvin * 100)
    assert units.read("temperature", f"{hundredth / 100:.2f} K").exact == Fraction(hundredth, 100)
    celsius = Fraction(hundredth, 100) - Fraction("273.15")
    assert units.read("temperature", f"{float(celsius):.2f} C").exact == Fraction(hundredth, 100)


@given(st.integers(1, 10**6).map(lambda n: Fraction(n, 1000)))
def test_masses_and_loads_are_the_same_in_every_unit(pounds: Fraction) -> None:
    mass = units.read("mass", f"{decimal(pounds)} lb").exact
    assert mass == units.read("mass", f"{decimal(pounds * 16)} oz").exact
    assert units.read("force", f"{decimal(pounds)} lbf").exact == mass * Fraction("9.80665")


@given(
    st.one_of(metres, sixty_fourths.map(lambda n: n * INCH / 64)),
    st.sampled_from(["in", "mm"]),
    st.integers(2, 5),
)
def test_a_length_shown_reads_back_within_half_its_last_digit(
    value: float | Fraction, system: str, places: int
) -> None:
    shown = units.length(value, system, places)
    step = INCH / 10**places if system == "in" else Fraction(1, 1000 * 10 ** (places - 2))
    assert abs(units.read("length", shown).exact - Fraction(value)) <= step / 2 * (1 + Fraction(1, 10**6))


@given(st.one_of(metres, sixty_fourths.map(lambda n: n * INCH / 64)))
def test_a_tape_reading_is_off_by_no_more_than_half_a_sixty_fourth(value: float | Fraction) -> None:
    read = units.read("length", units.tape(value)).exact
    assert abs(read - Fraction(value)) <= INCH / 128 * (1 + Fraction(1, 10**6))
    assert (read / INCH * 64).denominator == 1


@given(st.fractions(0, 6, max_denominator=10**9), grids)
def test_rounding_up_is_never_below_and_less_than_a_step_above(value: Fraction, grid: Fraction) -> None:
    up = round_up(value, grid)
    assert value <= up < value + grid
    assert (up / grid).denominator == 1
    assert round_up(up, grid) == up


@given(metres, grids)
def test_rounding_up_a_float_is_below_by_noise_at_most(value: float, grid: Fraction) -> None:
    up = round_up(value, grid)
    assert Fraction(value) * (1 - Fraction(1, 10**9)) <= up < Fraction(value) + grid


@given(st.integers(1, 10_000), grids, st.floats(0.01, 100.0))
def test_a_float_multiple_never_creeps_up_a_step(count: int, grid: Fraction, factor: float) -> None:
    noisy = float(count * grid) * factor / factor
    assert round_up(noisy, grid) == count * grid


@given(st.integers(1, 10_000), grids, st.sampled_from(["in", "mm"]))
def test_a_shop_size_reads_back_never_below(count: int, grid: Fraction, system: str) -> None:
    size = count * grid
    read = units.read("length", units.shop(size, grid, system)).exact
    assert size <= read < size + INCH / 1000
    if system == "in" and 128 % (size / INCH).denominator == 0:
        assert read == size


@given(metres, st.sampled_from(["in", "mm"]), st.integers(2, 5))
def test_a_length_rounded_up_is_below_by_noise_at_most(value: float, system: str, places: int) -> None:
    read = units.read("length", units.length_up(value, system, places)).exact
    step = INCH / 10**places if system == "in" else Fraction(1, 1000 * 10 ** (places - 2))
    assert Fraction(value) * (1 - Fraction(2, 10**9)) <= read < Fraction(value) + step


@given(st.floats(0.0, 3.0))
def test_a_ratio_shown_is_never_above(value: float) -> None:
    shown = Fraction(units.ratio(value).removesuffix(" %")) / 100
    assert (
        shown <= Fraction(value) * (1 + Fraction(2, 10**9)) < shown + Fraction(1, 1000) + Fraction(1, 10**6)
    )


@given(st.floats(1e-6, 1e12), st.integers(1, 6))
def test_a_number_shown_is_within_half_its_last_digit(value: float, digits: int) -> None:
    shown = float(units.number(value, digits).replace(",", ""))
    assert abs(shown - value) <= 0.5000001 * 10 ** (1 - digits) * value


@given(st.floats(-1e6, 1e6))
def test_everything_shown_survives_a_plain_console(value: float) -> None:
    size = abs(value)
    shown = [units.length(value), units.length(value, "mm"), units.gravity(value), units.percent(value)]
    shown += [units.temperature(size), units.temperature(size, "F"), units.mark(value), units.stress(value)]
    shown += [units.number(value), units.signed(value, 3), units.ratio(size), units.tape(size)]
    shown += [units.shop(size, INCH / 64), units.shop(size, INCH / 64, "mm")]
    assert all(text.replace("°", "").isascii() and text.isprintable() for text in shown)
    assert not any(text.startswith("-") and not any(c in "123456789" for c in text) for text in shown)


@given(sixty_fourths, sixty_fourths)
def test_a_stretch_of_shop_sizes_is_read_however_its_ends_are_joined(first: int, second: int) -> None:
    start, end = sorted((first, second))
    ends = [units.shop(n * INCH / 64, INCH / 64).removesuffix(" in") for n in (start, end)]
    expected = [(start * INCH / 64, end * INCH / 64)]
    for joint in (" to ", "..", " - ", "–", " in - "):
        read = units.spans(joint.join(ends))
        assert [(a.exact, b.exact) for a, b in read] == expected


@given(
    st.sampled_from(
        ["length", "mass", "temperature", "moisture", "force", "count", "number", "mark", "gravity"]
    ),
    st.one_of(st.text(max_size=30), st.text("0123456789./-, '\"inmftxCF½°e+", max_size=12)),
)
def test_any_text_is_read_or_refused_and_what_is_read_keeps_its_meaning(kind: str, text: str) -> None:
    try:
        typed = units.read(kind, text)
    except Refusal as refusal:
        assert refusal.quantity == kind and "\n" not in refusal.message
        return
    assert units.read(kind, typed.text, "") == typed


@given(st.text("0123456789./-, ;'\"inmftxo½°by*–", max_size=16), st.sampled_from(["in", "mm"]))
def test_any_list_is_read_or_refused(text: str, default: str) -> None:
    for reader in (units.size, units.spans):
        try:
            found = reader(text, default)
        except Refusal as refusal:
            assert refusal.quantity in ("size", "stretch")
        else:
            assert isinstance(found, tuple)


@pytest.mark.parametrize(
    "text", ["1" * 5000, "1/" + "9" * 5000, "½" * 5000, "x" * 5000, "-" * 5000, "2' " * 2000]
)
def test_a_very_long_text_is_refused(text: str) -> None:
    for reader in (lambda: units.read("length", text), lambda: units.size(text), lambda: units.spans(text)):
        with pytest.raises(Refusal):
            reader()
