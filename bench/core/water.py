"""Pure water as the float test meets it: density and surface tension."""

from functools import lru_cache

from bench.core.errors import OutOfRange

FREEZING_K = 273.15
DENSITY_4C = 1000.0  # reference of every specific gravity [kg/m3]; wh190 p. 4-9


@lru_cache(maxsize=64)  # of one bath it is asked for very often
def density(temperature_k: float) -> float:
    """Density of air-free water at atmospheric pressure.

        rho = 999.97495 [1 - (t - 3.983035)^2 (t + 301.797) / (522528.9 (t + 69.34881))],  t in Celsius

    Args:
        temperature_k: of the bath [K].
    Returns:
        Density [kg/m3].
    Raises:
        OutOfRange: outside 0 to 40 C.
    Valid for:
        0 to 40 C; within 0.01 kg/m3 of IAPWS-95.
    Source:
        tanaka2001 eq. 1; coefficients from memory, checked against IAPWS-95 by the tests.
    """
    t = temperature_k - FREEZING_K
    if not 0.0 <= t <= 40.0:
        raise OutOfRange("water temperature", temperature_k, "0 to 40 C is covered", f"{t:.1f} C")
    return 999.974950 * (1 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))


@lru_cache(maxsize=64)
def surface_tension(temperature_k: float) -> float:
    """Surface tension of water against air.

        sigma = 0.2358 tau^1.256 (1 - 0.625 tau),  tau = 1 - T / 647.096

    Args:
        temperature_k: of the bath [K].
    Returns:
        Surface tension [N/m].
    Raises:
        OutOfRange: outside 0 to 40 C, where the float test is done.
    Valid for:
        the triple point to the critical point.
    Source:
        iapws1994 (release R1-76, 2014); coefficients from memory, checked against a reference library.
    """
    t = temperature_k - FREEZING_K
    if not 0.0 <= t <= 40.0:
        raise OutOfRange("water temperature", temperature_k, "0 to 40 C is covered", f"{t:.1f} C")
    tau = 1 - temperature_k / 647.096
    return float(0.2358 * tau**1.256 * (1 - 0.625 * tau))
