"""What all tests share."""

import pytest
from hypothesis import HealthCheck, settings

from bench import library
from bench.core.records import Species

# How fast cases are made says something of the machine, nothing of the program. Fifty cases a property keep
# the suite under five minutes on two cores; `--hypothesis-profile thorough` tries more.
settings.register_profile("any machine", max_examples=50, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("thorough", max_examples=1000, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any machine")


@pytest.fixture(scope="session")
def woods() -> dict[str, Species]:
    """The shipped species."""
    return library.load().species
