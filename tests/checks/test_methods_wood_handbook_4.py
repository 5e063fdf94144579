"""Wood Handbook (FPL-GTR-282, 2021; FPL-GTR-190, 2010) chapter 4: bases of gravity, moisture of wood in air.

Equations 4-9 to 4-14 on pages 4-10 to 4-12, equation 4-5 on page 4-4. Numbers marked "worked" were worked out
from those equations apart from this program; the others are printed.
"""

import math

import pytest
from methods_printed import LIBRARY, float_stick, printed

from bench.core import floating, spread
from bench.core.moisture import (
    MODEL_EMC,
    density_at,
    equilibrium,
    fitted,
    gravity_at,
    shrinkage_at,
    shrinkage_from_green_gravity,
)

GREEN = 0.30
POUND_PER_CUBIC_FOOT = 0.45359237 / 0.3048**3


def kelvin(fahrenheit: float) -> float:
    """[K]"""
    return (fahrenheit - 32) / 1.8 + 273.15


# --- gravity and density -------------------------------------------------------------------------------


def test_density_cells() -> None:
    """Table 4-6a: G 0.60 at 12 % weighs 672 kg/m3, G 0.40 at 100 % weighs 800 kg/m3."""
    assert density_at(0.60, 0.12) == printed("672")
    assert density_at(0.40, 1.00) == printed("800")


def test_density_example() -> None:
    """A published example after chapter 4: G 0.40 at 12 % is 448 kg/m3, 27.97 lb/ft3."""
    assert density_at(0.40, 0.12) == printed("448")
    assert density_at(0.40, 0.12) / POUND_PER_CUBIC_FOOT == printed("27.97")


BASES = [
    # key, G_b, S_0 %, worked G_12, worked G_0, printed G_12 (Table 4-3 and 5-3 of the green figures)
    ("white_ash", "0.55", "13.3", "0.5977", "0.6344", "0.60"),
    ("sitka_spruce", "0.37", "11.5", "0.3974", "0.4181", "0.40"),
    ("noble_fir", "0.37", "12.4", "0.3997", "0.4224", None),
]


@pytest.mark.parametrize(("key", "green", "shrinkage", "at_12", "oven_dry", "table"), BASES)
def test_green_to_12_percent_to_oven_dry(
    key: str, green: str, shrinkage: str, at_12: str, oven_dry: str, table: str | None
) -> None:
    species = LIBRARY.get(key)
    figure = species.find("specific_gravity", "green", "green")
    dries, origin = floating.shrinkage_of(species)
    assert figure is not None and figure.printed == green
    assert (origin, dries * 100) == ("table", printed(shrinkage))
    assert gravity_at(figure.value, GREEN, 0.12, dries) == printed(at_12)
    assert gravity_at(figure.value, GREEN, 0.0, dries) == printed(oven_dry)
    if table is not None:
        found = species.find("specific_gravity", "12 %", "12 %")
        assert found is not None and found.printed == table
        assert gravity_at(figure.value, GREEN, 0.12, dries) == printed(table)


def test_shrinkage_where_no_table_has_it() -> None:
    """Eq. 4-12 and 4-13 for G_b 0.55: S_0 14.575 %, G_12 0.6027 (worked)."""
    estimate = shrinkage_from_green_gravity(0.55)
    assert estimate * 100 == printed("14.575")
    assert gravity_at(0.55, GREEN, 0.12, estimate) == printed("0.6027")


def test_shrinkage_is_linear_to_saturation() -> None:
    """Eq. 4-9, saturation at 30 %."""
    assert shrinkage_at(0.0, 0.115) == pytest.approx(0.115)
    assert shrinkage_at(0.15, 0.115) == pytest.approx(0.0575)
    assert shrinkage_at(0.30, 0.115) == 0 == shrinkage_at(0.80, 0.115)


CHAIN = [
    # key, fraction, M %, then worked R, G_M, G_12, G_0, G_b in water of 20 C; tolerance 0.0005
    ("sitka_spruce", 0.44, "10", ("0.4392", "0.3993", "0.3960", "0.4166", "0.3687")),
    ("sitka_spruce", 0.45, "12", ("0.4492", "0.4011", "0.4011", "0.4219", None)),
    ("white_ash", 0.70, "9", (None, "0.6411", "0.6318", "0.6706", None)),
    ("sitka_spruce", 0.40, "14", (None, "0.3502", None, "0.3715", None)),
]


@pytest.mark.parametrize(("key", "fraction", "moisture", "wanted"), CHAIN)
def test_float_chain(key: str, fraction: float, moisture: str, wanted: tuple[str | None, ...]) -> None:
    found = floating.read(float_stick(fraction * 10, moisture=moisture), LIBRARY.get(key))
    steps = (found.as_floated, found.sg_at_moisture, found.sg_12, found.sg_oven_dry, found.sg_green)
    for step, text in zip(steps, wanted, strict=True):
        if text is not None:
            assert step == printed(text, 0.0005)


# --- moisture of wood in air ---------------------------------------------------------------------------


@pytest.mark.parametrize(("humidity", "table"), [(0.40, "7.7"), (0.65, "12.0")])
def test_moisture_table_at_21_c(humidity: float, table: str) -> None:
    """Table 4-2, the 21.1 C (70 F) row."""
    assert equilibrium(273.15 + 21.1, humidity) * 100 == printed(table)


def test_equation_and_table_at_140_f() -> None:
    """A published comparison: at 140 F and 55 % the equation gives 8.4, the table 8.0."""
    moisture = equilibrium(kelvin(140), 0.55) * 100
    assert moisture == printed("8.4")
    assert moisture == printed("8.0", 0.5)  # claimed within half a point from 35 to 180 F


AIR = [
    # F, humidity %, worked moisture %; tolerance 0.02
    *((70, 10, "2.48"), (70, 30, "6.17"), (70, 40, "7.70"), (70, 50, "9.25"), (70, 65, "11.96")),
    *((70, 80, "16.00"), (70, 90, "20.49"), (30, 50, "9.52"), (90, 40, "7.41"), (100, 70, "12.32")),
    *((68, 35, "6.96"), (68, 50, "9.27"), (68, 65, "12.00")),
    # the inverse at 70 F: humidity that settles wood at 8, 10, 12 and 15 %
    *((70, 41.97, "8"), (70, 54.57, "10"), (70, 65.17, "12"), (70, 76.97, "15")),
]


@pytest.mark.parametrize(("fahrenheit", "humidity", "moisture"), AIR)
def test_moisture_of_wood_in_air(fahrenheit: float, humidity: float, moisture: str) -> None:
    assert equilibrium(kelvin(fahrenheit), humidity / 100) * 100 == printed(moisture, 0.02)


def humidity_for(moisture: float, temperature_k: float) -> float:
    """The humidity that settles wood at a moisture, by halving."""
    low, high = 0.0, 0.98
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if equilibrium(temperature_k, middle) >= moisture else (middle, high)
    return high


@pytest.mark.parametrize(
    ("moisture", "humidity"), [("8", "41.97"), ("10", "54.57"), ("12", "65.17"), ("15", "76.97")]
)
def test_humidity_that_settles_wood_at_a_moisture(moisture: str, humidity: str) -> None:
    """Worked inverse of eq. 4-5 at 70 F, with its inch-pound constants.

    The two sets of constants differ by less than 0.01 % of moisture, which is 0.05 % of humidity here.
    """
    assert humidity_for(float(moisture) / 100, kelvin(70)) * 100 == printed(humidity, 0.05)


def test_the_model_is_named_because_another_differs() -> None:
    """Eq. 4-6 on the same page (Glass and others, 2014) gives 10.65 % at 30 F and 50 %, eq. 4-5 gives 9.52.

    A note, no agreement: 1.1 points apart, so that an answer says which equation it is by.
    """
    t = kelvin(30)
    glass = (-0.000612 * t * (1 - t / 647.1) ** 2.43 * math.log(1 - 0.50)) ** (0.0577 * t**0.430)
    assert glass * 100 == printed("10.65")
    assert equilibrium(t, 0.50) * 100 == printed("9.52", 0.02)
    assert "eq. 4-5" in MODEL_EMC


def test_where_the_equation_is_claimed_to_hold() -> None:
    """Page 4-4: within half a percent for 35 to 180 F (2 to 82 C) and 20 to 80 % humidity."""
    assert fitted(kelvin(70), 0.50) and fitted(273.15 + 2, 0.20) and fitted(273.15 + 82, 0.80)
    assert not fitted(273.15 + 1, 0.50) and not fitted(273.15 + 83, 0.50)
    assert not fitted(kelvin(70), 0.19) and not fitted(kelvin(70), 0.81)


def test_the_band_of_an_estimated_shrinkage_covers_every_wood_that_has_both() -> None:
    """Eq. 4-12, S_0 = 26.5 G_b, against table 4-3 (GTR-190) and the other shrinkages printed."""
    missed = {}
    for key, species in LIBRARY.species.items():
        printed = species.find("shrinkage_volumetric")
        green = species.find("specific_gravity", "green", "green")
        if printed and green:
            missed[key] = abs(printed.value - shrinkage_from_green_gravity(green.value))
    assert len(missed) == 21
    worst = max(missed, key=lambda key: missed[key])
    assert (worst, round(missed[worst], 4)) == ("american_basswood", 0.0732)
    assert missed[worst] <= spread.SHRINKAGE_HALF_WIDTH["estimate"]
