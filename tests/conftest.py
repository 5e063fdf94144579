"""What all tests share."""

import pytest
from hypothesis import HealthCheck, settings

from bench import library
from bench.core.records import Species

# How fast cases are made says something of the machine, nothing of the program.
settings.register_profile("any machine", suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any machine")


@pytest.fixture(scope="session")
def woods() -> dict[str, Species]:
    """The shipped species."""
    return library.load().species
