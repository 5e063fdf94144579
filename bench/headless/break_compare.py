"""`breaks compare`: groups of coupons, what each can say, and one against another."""

from collections.abc import Mapping
from math import ceil, floor, isfinite, log10
from pathlib import Path
from typing import Any

from bench import units
from bench.core import coupon_moisture, samples, working_breaks
from bench.core.errors import FileFault, OutOfRange, Refusal
from bench.core.frozen import record
from bench.core.records import Species
from bench.core.sampled import Sampled, needed
from bench.core.samples import LEAST_FOR_LIMIT, MOST_COUPONS, Limit, Welch
from bench.core.steps import Number, Step
from bench.core.working_breaks import LIMIT
from bench.headless import break_files
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given
from bench.headless.break_files import CouponRow, Coupons
from bench.headless.shelf import faults, shelf
from bench.sheets import table

EQUAL = {
    "size": "equal size: the difference is of the wood as it is, whatever each coupon weighs",
    "weight": "equal weight: the lighter wood has the larger coupon, so this is what sticks of one weight "
    "do, and no figure of the wood; under blows it flatters the heavier wood, whose stick is less stiff",
}
NOT_SAID = (
    "whether the coupons are of equal size or of equal weight is not said (--coupons): a difference means "
    "one thing or the other"
)
MOISTURE_APART = 0.01  # mean moistures farther apart than this are said: our rule
PROPERTIES = (
    *("modulus_of_rupture", "modulus_of_elasticity", "compression_parallel", "compression_perpendicular"),
    *("shear_parallel", "work_to_maximum_load", "impact_bending_drop"),
)


@record
class Group(Sampled):
    """Coupons under one name, in the unit of the file."""

    name: str
    values: tuple[float, ...]
    moisture: float | None  # mean, as tested; None where one was not measured [1]


def answer(given: Given, path: Path) -> Answer:
    """What the coupons of a file say.

    Raises:
        Refusal: the file or an option cannot be read, or does not go with the others.
    """
    found = break_files.coupons(path)
    equal = given.text("--coupons")
    brought, doubts = _brought(given, found)
    groups = tuple(_group(name, found, brought) for name in found.groups)
    pair = _pair(given, groups)
    welch, why = _welch(pair)
    data: dict[str, Any] = {
        "unit": found.unit,
        "groups": [_data(group) for group in groups],
        **(_compared(pair, welch) if pair else {}),
        "basis": _basis(equal, given),
    }
    warnings = [
        *doubts,
        *((f"values in several units were brought to {found.unit}",) if found.mixed else ()),
        *(said for group in groups for said in _of_group(group)),
        *([why] if why else []),
        *((NOT_SAID,) if len(groups) > 1 and not equal else ()),
    ]
    tables = [_table(groups, found.unit, _basis(equal, given))]
    if pair and welch:
        tables.append(_comparison(pair, welch, found.unit))
    return Answer(data, tuple(tables), tuple(warnings), _working(groups, pair, welch))


# --- moisture ------------------------------------------------------------------------------------------


def _brought(given: Given, found: Coupons) -> tuple[Mapping[int, float], tuple[str, ...]]:
    """The value of each line, brought to one moisture where that is asked for, and what is to be said."""
    as_tested = {row.line: found.number(row) for row in found.rows}
    quantity = given.text("--property")
    for option in ("--species", "--to"):
        if given.has(option) and not quantity:
            raise Refusal(
                f"{option}: belongs to --property, which says what is brought to one moisture", option
            )
    if not quantity:
        return as_tested, _apart(found)
    if not found.has_moisture:
        raise Refusal(
            f"--property: {found.path} has no column moisture to bring the values from", "--property"
        )
    library = shelf()
    with given.naming({"species": "--species"}):
        keys = [key.strip() for key in given.text("--species").split(",") if key.strip()]
        if len(keys) not in (1, len(found.groups)):
            why = f"one species, or one for each of the groups {', '.join(found.groups)}, is wanted"
            raise OutOfRange("species", given.text("--species"), why)
        woods = [library.get(key) for key in keys]
    of_group = dict(zip(found.groups, woods * (len(found.groups) if len(woods) == 1 else 1), strict=True))
    with given.naming({"moisture": "--to"}):
        to = given.value("--to", "12 %").si
        for wood in woods:
            with given.naming({quantity: "--property"}):
                coupon_moisture.at_moisture(1.0, wood, quantity, to, to)
    values = {row.line: _moved(row, found, of_group[row.group], quantity, to) for row in found.rows}
    return values, (
        f"every value is brought to {units.percent(to)} moisture by wh282 eq. 5-3",
        *faults(library),
    )


def _moved(row: CouponRow, found: Coupons, wood: Species, quantity: str, to: float) -> float:
    if row.moisture is None:
        raise FileFault(
            found.path, "nothing stands there; a moisture like 9.5 is wanted", row.line, "moisture"
        )
    try:
        return coupon_moisture.at_moisture(found.number(row), wood, quantity, row.moisture.si, to)
    except OutOfRange as refusal:
        why = f"{row.moisture.text} is not possible here; {refusal.limits}"
        raise FileFault(found.path, why, row.line, "moisture") from None


def _apart(found: Coupons) -> tuple[str, ...]:
    if not found.has_moisture:
        return ()
    means = [group.moisture for name in found.groups if (group := _group(name, found, {}))]
    known = [moisture for moisture in means if moisture is not None]
    if len(known) > 1 and max(known) - min(known) > MOISTURE_APART:
        said = ", ".join(units.percent(moisture) for moisture in known)
        return (f"the groups differ in moisture ({said}), and nothing brings them to one (--property): "
                "part of the difference may be water",)  # fmt: skip
    return ("values are as tested: moisture is not taken into account (--property)",)


# --- groups --------------------------------------------------------------------------------------------


def _group(name: str, found: Coupons, values: Mapping[int, float]) -> Group:
    rows = [row for row in found.rows if row.group == name]
    measured = [row.moisture.si for row in rows if row.moisture is not None]
    moisture = samples.mean(measured) if len(measured) == len(rows) else None
    return Group(name, tuple(values[row.line] for row in rows if row.line in values), moisture)


def _pair(given: Given, groups: tuple[Group, ...]) -> tuple[Group, Group] | None:
    """The two groups to compare: those named, else the only two there are."""
    if not given.has("--between"):
        return (groups[0], groups[1]) if len(groups) == 2 else None
    by_name = {table.same(group.name): group for group in groups}
    names = [table.same(name) for name in given.text("--between").split(",")]
    if len(names) != 2 or names[0] == names[1] or not by_name.keys() >= set(names):
        wanted = f"two of {', '.join(group.name for group in groups)}, with a comma between"
        raise Refusal(
            f"--between: {given.text('--between')!r} cannot be compared; {wanted} would be read", "--between"
        )
    return by_name[names[0]], by_name[names[1]]


def _welch(pair: tuple[Group, Group] | None) -> tuple[Welch | None, str]:
    if pair is None:
        return None, ""
    try:
        return samples.welch(pair[0].values, pair[1].values), ""
    except OutOfRange as refusal:
        return None, f"no comparison: {refusal.limits}"


def _limit(group: Group) -> Limit | None:
    """None under three coupons; raises what else refuses it."""
    limit = group.limit
    if isinstance(limit, Limit):
        return limit
    if len(group.values) >= LEAST_FOR_LIMIT:
        raise limit
    return None


def _data(group: Group) -> dict[str, Any]:
    limit, spread = _limit(group), group.deviation
    low, high = samples.mean_interval(group.values) if spread is not None else (None, None)
    return {
        "group": group.name,
        "n": len(group.values),
        "mean": group.mean,
        "sd": spread,
        "cov": None if spread is None else spread / group.mean,
        "lower_limit": limit.value if limit else None,
        "factor": limit.factor if limit else None,
        "mean_low": low,
        "mean_high": high,
        "moisture_percent": None if group.moisture is None else group.moisture * 100,
    }


def _compared(pair: tuple[Group, Group], welch: Welch | None) -> dict[str, Any]:
    names = ("t", "df", "p", "low", "high", "settled")
    return {
        "compared": [group.name for group in pair],
        "difference": welch.difference if welch else pair[0].mean - pair[1].mean,
        **{name: getattr(welch, name) if welch else None for name in names},
        "coupons_to_settle": needed(*pair, welch) if welch else None,
    }


def _of_group(group: Group) -> tuple[str, ...]:
    """What is to be said of one group."""
    count, limit = len(group.values), _limit(group)
    if limit is None:
        broken = "one coupon was" if count == 1 else "two coupons were"
        return (
            f"{group.name}: no lower limit, as {broken} broken and {LEAST_FOR_LIMIT} and more are needed",
        )
    if limit.below_zero:
        why = "coupons so few and uneven say nothing of the weak ones"
        return (f"{group.name}: the lower limit lies below zero: {why}",)
    return ()


def _basis(equal: str, given: Given) -> str:
    at = ""
    if given.has("--property"):
        at = f"; at {units.percent(given.value('--to', '12 %').si)} moisture"
    return (
        f"lower limit: {LIMIT}, of a random sample of a normal law{f'; {EQUAL[equal]}' if equal else ''}{at}"
    )


# --- words ---------------------------------------------------------------------------------------------


def _number(value: float, unit: str, down: bool = False, up: bool = False) -> str:
    """Four digits; `down` and `up` go outward: no limit looks better and no band narrower than it is."""
    if (down or up) and value and isfinite(value):
        step = 10.0 ** (floor(log10(abs(value))) - 3)
        steps = value / step
        whole = round(steps)
        if abs(steps - whole) > 1e-9:
            whole = floor(steps) if down else ceil(steps)
        value = whole * step
    return f"{units.number(value, 4)} {unit}".strip()


def _table(groups: tuple[Group, ...], unit: str, basis: str) -> Table:
    rows = []
    for group in groups:
        limit, spread = _limit(group), group.deviation
        between = "--"
        if spread is not None:
            low, high = samples.mean_interval(group.values)
            between = f"{_number(low, '', down=True)} to {_number(high, unit, up=True)}"
        rows.append(
            (
                group.name,
                f"{len(group.values)}",
                _number(group.mean, unit, down=True),
                "--" if spread is None else _number(spread, unit, up=True),
                "--" if spread is None else units.percent(spread / group.mean),
                _number(limit.value, unit, down=True) if limit else f"-- (needs {LEAST_FOR_LIMIT})",
                between,
            )
        )
    columns = (
        "group",
        "n",
        "mean",
        "standard deviation",
        "of the mean",
        "lower limit",
        "95 % band of the mean",
    )
    return Table(f"Coupons; {basis}", columns, tuple(rows))


def _comparison(pair: tuple[Group, Group], welch: Welch, unit: str) -> Table:
    one, two = (group.name for group in pair)
    count = needed(*pair, welch)
    each = f"{count}" if count else f"over {MOST_COUPONS:,}"
    band = f"{_number(welch.low, '', down=True)} to {_number(welch.high, unit, up=True)}"
    rows = (
        ("difference", _number(welch.difference, unit), f"mean of {one} less that of {two}"),
        ("95 % band", band, _settled(welch)),
        ("t", f"{welch.t:.3f}", f"{welch.df:.2f} degrees of freedom, spreads not taken for equal (Welch)"),
        ("p", f"{welch.p:.2g}", "chance of a difference as large, either way, where there is none"),
        (
            "coupons in each",
            each,
            "would part the two if means and spreads stayed: about an even chance of it",
        ),
    )
    return Table(f"{one} against {two}", ("", "value", "basis"), rows)


def _settled(welch: Welch) -> str:
    if welch.settled:
        return "zero lies outside: the groups differ"
    return "zero lies inside: these coupons do not show a difference, nor that there is none"


def _working(
    groups: tuple[Group, ...], pair: tuple[Group, Group] | None, welch: Welch | None
) -> tuple[Step, ...]:
    steps = []
    for group in groups:
        limit = _limit(group)
        if limit is not None:
            numbers = (_plain(group.mean), _plain(group.deviation or 0.0), _plain(limit.value))
            steps.append(working_breaks.limit_step(group.name, limit.count, limit.factor, *numbers))
    if pair and welch:
        between = (welch.error, welch.low, welch.high, welch.difference)
        names = (pair[0].name, pair[1].name)
        steps.append(working_breaks.welch_step(*names, welch.t, welch.df, *map(_plain, between)))
    return tuple(steps)


def _plain(value: float) -> Number:
    """In the unit of the file."""
    return Number("", value, "number")
