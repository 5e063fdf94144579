"""Save then load is identity for every edit and every job, and data of another form is refused."""

import json
from dataclasses import MISSING, dataclass, fields
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.core.codec import from_plain, to_plain
from bench.core.edits import EDITS, PutStick, RemoveStick
from bench.core.errors import BadInput
from bench.core.records import Defect, Job, Stick, Typed
from tests.tools.any_record import ANY_EDIT, job


def test_every_edit_has_a_strategy_here() -> None:
    assert set(ANY_EDIT) == set(EDITS)


@pytest.mark.parametrize("kind", sorted(EDITS))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_save_then_load_is_identity(kind: str, data: st.DataObject) -> None:
    edit = data.draw(ANY_EDIT[kind])
    text = json.dumps(to_plain(edit))
    assert text.isascii()
    again = from_plain(EDITS[kind], json.loads(text))
    assert again == edit
    assert type(again) is type(edit)
    assert to_plain(again) == to_plain(edit)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(job)
def test_a_whole_job_comes_back(before: Job) -> None:
    assert from_plain(Job, json.loads(json.dumps(to_plain(before)))) == before


WRITTEN = PutStick(
    Stick(
        "A-1",
        "sitka_spruce",
        Typed(Fraction(127, 40_000), "1/8 in"),
        Typed(Fraction(1), "1 m"),
        Typed(Fraction(1, 2), ".5m"),
        defects=(Defect(Typed(Fraction(0), "0"), Typed(Fraction(-1, 3), "x")),),
    )
)
PLAIN = {
    "stick": {
        "tag": "A-1",
        "species": "sitka_spruce",
        "length": {"exact": "127/40000", "text": "1/8 in"},
        "width": {"exact": "1", "text": "1 m"},
        "depth": {"exact": "1/2", "text": ".5m"},
        "moisture": None,
        "variant": "",
        "lot": "",
        "defects": [
            {
                "start": {"exact": "0", "text": "0"},
                "end": {"exact": "-1/3", "text": "x"},
                "kind": "",
                "size": None,
                "depth": None,
                "edge": None,
            }
        ],
        "readings": [],
        "note": "",
        "inspection": {
            "rings": None,
            "slope_one": None,
            "slope_two": None,
            "edge_grain": None,
            "bow": None,
            "bow_over": None,
            "looked": False,
        },
        "weighings": [],
        "ovens": [],
        "parent": "",
        "condemned": "",
        "sawn_from": [],
        "sawn_width": None,
        "sawn_depth": None,
        "cleared": [],
    },
    "was": "",
}


def test_what_a_file_holds_is_plain() -> None:
    """Written out by hand: the form is in people's files and must not drift."""
    assert to_plain(WRITTEN) == PLAIN


@pytest.mark.parametrize("kind", sorted(EDITS))
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_older_data_takes_the_default(kind: str, data: st.DataObject) -> None:
    edit = data.draw(ANY_EDIT[kind])
    plain = to_plain(edit)
    for field in fields(edit):
        if field.default is not MISSING:
            rest = {name: item for name, item in plain.items() if name != field.name}
            assert getattr(from_plain(EDITS[kind], rest), field.name) == field.default
        else:
            with pytest.raises(BadInput):
                from_plain(EDITS[kind], {name: item for name, item in plain.items() if name != field.name})


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        (Typed, {"exact": 1, "text": "1"}),
        (Typed, {"exact": "1/0", "text": "1"}),
        (Typed, {"exact": "one", "text": "1"}),
        (Typed, {"exact": "1", "text": "1", "unit": "m"}),
        (Typed, ["1", "1"]),
        (Typed, None),
        (RemoveStick, {"tag": None}),
        (RemoveStick, {"tag": ["A"]}),
        (RemoveStick, {}),
        (tuple[float, ...], {"0": 1.0}),
        (tuple[float, ...], [True]),
        (tuple[float, ...], ["1.0"]),
        (int, 1.0),
        (int, True),
        (bool, 1),
        (Typed | None, "none"),
    ],
)
def test_data_of_another_form_is_refused(kind: Any, data: object) -> None:
    with pytest.raises(BadInput):
        from_plain(kind, data)


@dataclass(frozen=True)
class Stray:
    inside: object


@pytest.mark.parametrize("value", [{1, 2}, b"x", 1j, [1], Stray({}), Stray((b"x",))])
def test_what_no_record_holds_is_not_stored(value: object) -> None:
    with pytest.raises(TypeError):
        to_plain(value)
