"""Water against IAPWS: density by IAPWS-95, surface tension by release R1-76 (2014).

The table was worked out apart from this program with an independent library, at 101.325 kPa; the same library
is asked again here. Tolerances: density 0.01 kg/m3, which is what the docstring claims; tension 0.15 mN/m,
which covers the other published correlation in use, 0.08 mN/m higher.
"""

import pytest
from iapws import IAPWS95
from iapws._iapws import _Tension
from methods_printed import printed

from bench.core import water
from bench.core.errors import OutOfRange

DENSITY, TENSION = 0.01, 0.15

TABLE = [
    # t C, density kg/m3, surface tension mN/m
    ("4", "999.975", "75.084"),
    ("10", "999.702", "74.221"),
    ("15", "999.103", "73.486"),
    ("20", "998.207", "72.736"),
    ("25", "997.048", "71.972"),
    ("30", "995.649", "71.194"),
    ("40", "992.216", "69.596"),
]


@pytest.mark.parametrize(("celsius", "density", "tension"), TABLE)
def test_printed_table(celsius: str, density: str, tension: str) -> None:
    kelvin = float(celsius) + 273.15
    assert water.density(kelvin) == printed(density, DENSITY)
    assert water.surface_tension(kelvin) * 1000 == printed(tension, TENSION)


@pytest.mark.parametrize("celsius", range(0, 41, 2))
def test_against_the_reference_library(celsius: int) -> None:
    # At 0 C and this pressure IAPWS-95 is a hair below its melting line; 0.01 C is the triple point.
    kelvin = max(celsius, 0.01) + 273.15
    assert water.density(kelvin) == pytest.approx(IAPWS95(T=kelvin, P=0.101325).rho, abs=DENSITY)
    assert water.surface_tension(kelvin) == pytest.approx(_Tension(kelvin), abs=TENSION / 1000)


def test_a_cold_bath_and_a_warm_one() -> None:
    # Derived from the table above: 10 C to 30 C changes a reading by 0.4 percent.
    change = 1 - water.density(303.15) / water.density(283.15)
    assert change == pytest.approx(1 - 995.649 / 999.702, abs=2e-5)


@pytest.mark.parametrize("kelvin", [273.14, 313.16, -1.0, float("nan")])
def test_outside_is_refused(kelvin: float) -> None:
    for formula in (water.density, water.surface_tension):
        with pytest.raises(OutOfRange):
            formula(kelvin)
