"""The verb `grain`: slopes of two faces together, against the limit, and what they leave of the strength."""

import math
from typing import Any

from bench import units
from bench.core import acceptance as acc
from bench.core import grain
from bench.core.errors import OutOfRange, Refusal
from bench.core.limits import ANC19, SMALL_PART, limit
from bench.core.working import Number, Step
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option

OPTIONS = {
    "grain": (
        Option("--slope", "slope", "of the grain on one face; twice for two faces", needed=True, many=True),
    )
}

_HANDBOOK = ("bending", "impact", "compression")
_ANC18 = ("bending", "stiffness", "compression", "tension")
_HANDBOOK_PLACE, _ANC18_PLACE = "wh282 table 5-12", "anc18 table 2-4"


def _grain(given: Given) -> Answer:
    faces = tuple(typed.si for typed in given.values("--slope"))
    if len(faces) > 2:
        raise Refusal("--slope: given more than twice; one or two faces would be read", "--slope")
    one, two = (*faces, 0.0)[:2]
    with given.naming({"slope": "--slope"}):
        both, judged = grain.combined(one, two), grain.judged(one, two)
        shares = {name: grain.retained(both, name) for name in _HANDBOOK}
    try:
        design = {name: grain.retained_anc18(both, name) for name in _ANC18}
    except OutOfRange:
        design = {}
    row = limit("slope", ANC19, SMALL_PART)
    most = float(row.exact)
    word, reason = _verdict(judged, most, len(faces))
    source = f"{row.document} {row.where}"
    data: dict[str, Any] = {
        "combined": _run(both),
        "judged": _run(judged),
        "strength_percent": _percent(shares),
        "design_percent": _percent(design) if design else None,
        "limit": _run(most),
        "limit_source": source,
        "verdict": word,
        "reasons": [reason],
        "basis": f"strength_percent: of straight-grained wood, {_HANDBOOK_PLACE}; design_percent: of the "
        f"design value, {_ANC18_PLACE}; two statements of one effect, never multiplied",
    }
    rows = (
        ("both faces together", units.slope(both), f"faces {', '.join(map(units.slope, faces))}"),
        ("held against the limit", units.slope(judged), "the steeper alone where neither is over 1:21"),
        ("limit", units.slope(most), source),
        ("verdict", word.upper(), reason),
    )
    tables = (Table("Slope of grain", ("", "value", "basis"), rows), _strengths(shares, design))
    return Answer(
        data, tables, _warnings(both, word, reason, bool(design)), _working(faces, both, judged, most)
    )


def _run(slope: float) -> float | None:
    """The run for a rise of 1, None for straight grain, whose run has no end."""
    run = 1 / slope if slope else math.inf
    return run if math.isfinite(run) else None


def _percent(shares: dict[str, float]) -> dict[str, float]:
    return {name: share * 100 for name, share in shares.items()}


def _verdict(judged: float, most: float, faces: int) -> tuple[str, str]:
    if judged > most * (1 + 1e-12):
        return acc.REJECT, f"{units.slope(judged)} is steeper than {units.slope(most)}"
    if faces < 2:
        return acc.HOLD, "one face only: measure the face beside it and give --slope twice"
    return acc.ACCEPT, f"{units.slope(judged)} is no steeper than {units.slope(most)}"


def _warnings(both: float, word: str, reason: str, design: bool) -> tuple[str, ...]:
    said = [reason] if word == acc.HOLD else []
    if not design:
        said.append(f"{_ANC18_PLACE} ends at 1:8: no share of the design values is known for this slope")
    elif both > grain.UNCLEAR_ANC18 * (1 + 1e-12):
        said.append(f"bending by {_ANC18_PLACE} leans on 67 percent at 1:8, which is printed unclearly")
    return tuple(said)


def _strengths(shares: dict[str, float], design: dict[str, float]) -> Table:
    # The last digit is cut off, so nothing looks stronger than it is.
    rows = [
        (name, units.ratio(share), f"of straight-grained wood, {_HANDBOOK_PLACE}")
        for name, share in shares.items()
    ]
    rows += [
        (name, units.ratio(share), f"of the design value, {_ANC18_PLACE}") for name, share in design.items()
    ]
    return Table(
        "What it leaves (two statements of one effect: never multiply)", ("", "share", "basis"), tuple(rows)
    )


def _working(faces: tuple[float, ...], both: float, judged: float, most: float) -> tuple[Step, ...]:
    numbers = tuple(Number(f"s_{count}", face, "slope") for count, face in enumerate(faces, 1))
    together = Number("s", both, "slope")
    steps = [
        Step(
            "both faces together",
            "s = sqrt(s_1^2 + s_2^2), rise over run",
            numbers,
            together,
            source="wh282 ch. 5, sec. Slope of Grain",
        ),
        Step(
            "against the limit",
            "the steeper face alone where neither is steeper than 1:21, else s",
            (Number("limit", most, "slope"), *numbers),
            Number("judged", judged, "slope"),
            source="anc19 sec. 2.4100, 2.4102",
        ),
    ]
    for place, basis, names, share in (
        (_HANDBOOK_PLACE, "of straight-grained wood", _HANDBOOK, grain.retained),
        (
            _ANC18_PLACE,
            "of the design value; the other statement of the same effect",
            _ANC18,
            grain.retained_anc18,
        ),
    ):
        if place == _ANC18_PLACE and both > grain.STEEPEST_ANC18 * (1 + 1e-12):
            continue
        steps += [
            Step(
                f"what it leaves: {name}",
                "linear in the angle atan(s) between the printed rows",
                (together,),
                Number("share", share(both, name), "share"),
                basis=basis,
                source=place,
            )
            for name in names
        ]
    return tuple(steps)


ANSWERS = {"grain": _grain}
