"""ANC-18, Design of Wood Aircraft Structures (June 1944), Table 2-1: pieces of one species."""

import pytest
from methods_printed import printed

from bench.core.strength import WITHIN_SPECIES, within_species

# S / S' = (g / g')^n, exponents as printed. Tension follows the modulus of rupture.
TABLE_2_1 = {
    "bending": "1.50",
    "stiffness": "1.25",
    "toughness": "2.00",
    "compression": "1.25",
    "tension": "1.50",
}


def test_every_exponent_is_in_the_table() -> None:
    assert set(WITHIN_SPECIES) == set(TABLE_2_1)


@pytest.mark.parametrize(("name", "exponent"), TABLE_2_1.items())
def test_exponent(name: str, exponent: str) -> None:
    assert WITHIN_SPECIES[name] == printed(exponent)
    assert within_species(0.36, 0.40, name) == pytest.approx(0.9 ** float(exponent))
    assert within_species(0.40, 0.40, name) == 1


def test_a_light_stick_of_spruce() -> None:
    # Worked: a stick of 0.36 in a species of 0.40 keeps 0.9^1.5 = 0.854 of the modulus of rupture.
    assert within_species(0.36, 0.40, "bending") == printed("0.854")
    assert within_species(0.36, 0.40, "toughness") == printed("0.81")
