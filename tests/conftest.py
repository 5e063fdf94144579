"""What all tests share."""

import pytest

from bench import library
from bench.core.records import Species


@pytest.fixture(scope="session")
def woods() -> dict[str, Species]:
    """The shipped species."""
    return library.load().species
