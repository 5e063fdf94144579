"""Short forms of what `python -m tests.torture` runs in full."""

import os
from pathlib import Path

import pytest

from tests.torture import damage, hostile, keys, kills


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
def test_killed_at_random_moments(tmp_path: Path) -> None:
    assert kills.run(5, 3, tmp_path) == 0


def test_random_keys_in_random_sizes(tmp_path: Path) -> None:
    assert keys.run(250, 2, tmp_path) == 0


def test_damaged_files(tmp_path: Path) -> None:
    assert damage.run(50, 5, tmp_path) == 0


def test_hostile_texts(tmp_path: Path) -> None:
    assert hostile.run(300, 7, tmp_path) == 0
