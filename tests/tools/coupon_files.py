"""Files of coupons by their bare names, for the verb `breaks`; every figure is invented."""

from pathlib import Path

import pytest

from bench.headless import verbs


@pytest.fixture(autouse=True)
def bare_names(home: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A data folder of nobody, and files by their bare names."""
    monkeypatch.chdir(tmp_path)
    assert verbs.VERBS["breaks"][0] == "bench.headless.breaks"


def written(name: str, text: str) -> str:
    Path(name).write_text(text, encoding="utf-8")
    return name
