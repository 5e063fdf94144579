"""Small drawings: a gravity beside its limits, two sections to one scale, the curve of a bending test."""

from bench import units
from bench.core.acceptance import Verdict
from bench.core.breaks import Result
from bench.core.capacities import Part
from bench.core.resizing import Resized
from bench.sheets import svg, wording
from bench.sheets.svg import number

_WIDE = 560.0  # units of the picture
_ROOM = 60.0  # beside a scale
_DEEP = 150.0  # the larger section at the most
_HIGH = 150.0  # of a curve


def gravity(verdict: Verdict) -> str:
    """A stick's gravity with its 95 percent band beside the limits of its wood.

    Args:
        verdict: by gravity.
    Returns:
        A picture; empty where there is nothing to hold against anything.
    """
    limits = [
        (name, figure.value)
        for name, figure in (
            ("minimum", verdict.minimum),
            ("average", verdict.average),
            ("maximum", verdict.maximum),
        )
        if figure is not None
    ]
    if verdict.value is None or verdict.low is None or verdict.high is None or not limits:
        return ""
    values = [verdict.low, verdict.high, *(value for _, value in limits)]
    least, most = min(values), max(values)
    scale = (_WIDE - 2 * _ROOM) / max(most - least, 0.01)

    def x(value: float) -> float:
        return _ROOM + (value - least) * scale

    low, high, at = x(verdict.low), x(verdict.high), x(verdict.value)
    band = f"{wording.band(verdict)} (95 %)"
    shown = [
        svg.path(f"M{number(_ROOM / 2)} 40H{number(_WIDE - _ROOM / 2)}", 0.6),
        svg.path(f"M{number(low)} 34V46M{number(low)} 37H{number(high)}M{number(high)} 34V46", 1.2),
        svg.path(f"M{number(at)} 30V50", 2),
        svg.text(at, 14, wording.gravity(verdict), "middle"),
        svg.text(at, 26, band, "middle"),
    ]
    taken: list[tuple[float, float, int]] = []
    for name, value in limits:
        said = f"{name} {units.gravity(value)}"
        half = svg.LETTER * len(said) / 2
        row = 0
        while any(r == row and abs(x(value) - other) < half + wide for other, wide, r in taken):
            row += 1
        taken.append((x(value), half, row))
        shown.append(svg.path(f"M{number(x(value))} 36V{number(54 + 12 * row)}", 0.6))
        shown.append(svg.text(x(value), 64 + 12 * row, said, "middle"))
    deep = 70 + 12 * max(row for *_, row in taken)
    return svg.picture(_WIDE, deep, "gravity beside the limits", shown)


def sections(resized: Resized, drawn: str, new: str) -> str:
    """The drawing's section and the new one, to one scale.

    Args:
        resized: the match.
        drawn: size of the drawing's section in words.
        new: of the new one.
    Returns:
        A picture.
    """
    plan, shop = resized.plan, resized.shop_section
    scale = min(_DEEP / max(plan.depth, shop.depth), 200 / max(plan.width, shop.width))
    apart = max(plan.width * scale, svg.LETTER * len(drawn)) + 40
    wide = apart + max(shop.width * scale, svg.LETTER * len(new)) + 4
    deep = max(plan.depth, shop.depth) * scale + 22
    shown = [
        svg.text(2, deep - 4, drawn),
        svg.text(apart, deep - 4, new),
        _outline(plan, 2, deep - 20, scale),
        _outline(shop, apart, deep - 20, scale),
    ]
    return svg.picture(wide, deep, "both sections to one scale", shown)


def _outline(part: Part, left: float, foot: float, scale: float) -> str:
    wide, deep = part.width * scale, part.depth * scale
    top = foot - deep
    if part.name == "round":
        middle = f'cx="{number(left + wide / 2)}" cy="{number(top + deep / 2)}" r="{number(wide / 2)}"'
        return f'<circle {middle} fill="none" stroke="#000" stroke-width="0.8"/>'
    outer = f"M{number(left)} {number(top)}h{number(wide)}v{number(deep)}h{number(-wide)}z"
    if not part.walled:
        return svg.path(outer)
    flange, web = part.sizes["flange"] * scale, part.sizes["web"] * scale
    if part.name == "box":
        inner = f"M{number(left + web)} {number(top + flange)}h{number(wide - 2 * web)}"
        return svg.path(f"{outer}{inner}v{number(deep - 2 * flange)}h{number(2 * web - wide)}z")
    side, open_ = (wide - web) / 2, deep - 2 * flange
    return svg.path(
        f"M{number(left)} {number(top)}h{number(wide)}v{number(flange)}h{number(-side)}v{number(open_)}"
        f"h{number(side)}v{number(flange)}h{number(-wide)}v{number(-flange)}h{number(side)}"
        f"v{number(-open_)}h{number(-side)}z"
    )


def bending(found: Result) -> str:
    """Load over deflection of a bending test, every reading a cross.

    Args:
        found: what a coupon says.
    Returns:
        A picture; empty where there are fewer than two readings.
    """
    points = [(point.deflection.si, point.load.si) for point in found.coupon.points]
    if len(points) < 2 or not max(x for x, _ in points) or not max(y for _, y in points):
        return ""
    across = (_WIDE - 2 * _ROOM) / max(x for x, _ in points)
    up = (_HIGH - 30) / max(y for _, y in points)
    places = [(_ROOM + x * across, _HIGH - 20 - y * up) for x, y in points]
    line = "L".join(f"{number(x)} {number(y)}" for x, y in places)
    crosses = "".join(f"M{number(x - 3)} {number(y)}h6M{number(x)} {number(y - 3)}v6" for x, y in places)
    most = max(found.coupon.points, key=lambda point: point.load.si)
    last = max(found.coupon.points, key=lambda point: point.deflection.si)
    top = _HIGH - 20 - most.load.si * up
    shown = [
        svg.path(f"M{number(_ROOM)} 6V{number(_HIGH - 20)}H{number(_WIDE - _ROOM / 2)}", 0.6),
        svg.path(f"M{line}", 0.8),
        svg.path(crosses, 0.6),
        svg.path(f"M{number(_ROOM - 4)} {number(top)}h8", 0.6),
        svg.text(_ROOM - 6, top + 4, most.load.text, "end"),
        svg.text(places[-1][0], _HIGH - 6, last.deflection.text, "end"),
        svg.text(_ROOM, _HIGH - 6, "0"),
    ]
    return svg.picture(_WIDE, _HIGH, "load over deflection", shown)
