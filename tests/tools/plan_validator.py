"""An independent judge of cut plans: the saw and a ruler, not the planner.

Works from the raw problem alone and shares no code with the planner; of `bench.core.cutting` it knows the
records only. Every number is an exact fraction, so no tolerance hides anything. `faults` returns what is
wrong, in words.
"""

from collections import Counter
from fractions import Fraction

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutRules, CutStick, StickPlan

Zone = tuple[Fraction, Fraction]


def zones(stick: CutStick, rules: CutRules) -> list[Zone]:
    """The lost zones of a stick, found by walking along it and counting what begins and ends [m]."""
    raw = [(0 * stick.length, rules.end_trim), (stick.length - rules.end_trim, stick.length)]
    if rules.end_trim == 0:
        raw = []
    for one, other in stick.lost:
        if one > other:
            one, other = other, one
        low, high = one - rules.margin, other + rules.margin
        if high >= 0 and low <= stick.length:
            raw.append((low if low > 0 else 0 * low, high if high < stick.length else stick.length))
    found = _walk(raw)
    widened = []
    for low, high in found:
        at_an_end = low == 0 or high == stick.length
        if not at_an_end and high - low < rules.kerf:
            high = low + rules.kerf
        widened.append((low, min(high, stick.length)))
    return _walk(widened)


def _walk(raw: list[Zone]) -> list[Zone]:
    """Runs covered by at least one zone; beginnings count before endings, so that touching zones are one."""
    events = sorted([(low, 0) for low, _ in raw] + [(high, 1) for _, high in raw])
    runs, depth, began = [], 0, Fraction(0)
    for place, ends in events:
        if ends:
            depth -= 1
            if depth == 0:
                runs.append((began, place))
        else:
            if depth == 0:
                began = place
            depth += 1
    return runs


def stretches(stick: CutStick, rules: CutRules) -> list[Zone]:
    """The good wood between the lost zones [m]."""
    good, here = [], 0 * stick.length
    for low, high in zones(stick, rules):
        if low > here:
            good.append((here, low))
        here = high
    if here < stick.length:
        good.append((here, stick.length))
    return good


def strip(part: CutPart, stick: CutStick, rules: CutRules) -> Fraction | None:
    """Rough width across the stick for the part's section, laid flat or on edge; 0 if that is not possible.

    None where a section is not known, so that there is nothing to compare [m].
    """
    if None in (part.width, part.depth, stick.width, stick.depth):
        return None
    wide, thick = max(stick.width, stick.depth), min(stick.width, stick.depth)
    wide_sawn, thick_sawn = stick.rough if stick.width > stick.depth else stick.rough[::-1]
    if stick.width == stick.depth:
        wide_sawn, thick_sawn = max(stick.rough), min(stick.rough)
    ways = []
    for across, through in ((part.width, part.depth), (part.depth, part.width)):
        rough = [
            side if side == have and not sawn else side + rules.planing + rules.planing
            for side, have, sawn in ((across, wide, wide_sawn), (through, thick, thick_sawn))
        ]
        if rough[0] <= wide and rough[1] <= thick:
            ways.append(rough[0])
    return min(ways) if ways else Fraction(0)


def may_be_cut(part: CutPart, stick: CutStick, rules: CutRules) -> bool:
    """By its tag and its section."""
    return (part.sticks is None or stick.tag in part.sticks) and strip(part, stick, rules) != 0


def _rough_width(problem: CutProblem, stick: CutStick, names: list[str]) -> Fraction | None:
    """How wide a strip for these parts must be; None: as wide as the stick, as a section is not known."""
    own = [strip(part, stick, problem.rules) for part in problem.parts if part.name in names]
    return None if None in own or not own else max(width for width in own if width is not None)


def _side_by_side(problem: CutProblem, stick: CutStick, widths: list[Fraction | None]) -> bool:
    """Do such strips come out of the stick? One always does."""
    if len(widths) < 2:
        return True
    if None in widths or stick.width is None or stick.depth is None:
        return False
    used = problem.rules.edge + (len(widths) - 1) * problem.rules.rip_kerf
    return used + sum(width for width in widths if width is not None) <= max(stick.width, stick.depth)


def _narrowest(problem: CutProblem, stick: CutStick) -> Fraction | None:
    """The narrowest strip that is wanted of the stick [m]."""
    own = [
        strip(part, stick, problem.rules)
        for part in problem.parts
        if part.quantity and may_be_cut(part, stick, problem.rules)
    ]
    return min((width for width in own if width is not None), default=None)


def _rows(plan: CutPlan, tag: str) -> list[StickPlan]:
    return [row for row in plan.sticks if row.tag == tag]


def faults(problem: CutProblem, plan: CutPlan) -> list[str]:
    """Everything that is wrong with the plan; empty if it can be sawn and its figures are true."""
    found = _count_faults(problem, plan)
    sticks = {stick.tag: stick for stick in problem.sticks}
    for row in plan.sticks:
        if row.tag not in sticks:
            found.append(f"stick {row.tag} does not exist")
        else:
            found += _stick_faults(problem, sticks[row.tag], row)
    for stick in problem.sticks:
        found += _rip_faults(problem, stick, _rows(plan, stick.tag))
    if not found:  # the rest would only repeat what is wrong above
        found = _reason_faults(problem, plan) + _figure_faults(problem, plan)
    return found


def _count_faults(problem: CutProblem, plan: CutPlan) -> list[str]:
    """Conditions 1 and 7: every part asked for once, every stick used once, in the problem's order."""
    found = []
    cut = Counter(piece.part for row in plan.sticks for piece in row.pieces)
    missing = {row.part: row.quantity for row in plan.unplaced}
    asked = {part.name: part.quantity for part in problem.parts}
    for name in (set(cut) | set(missing)) - set(asked):
        found.append(f"part {name} was not asked for")
    for name, quantity in asked.items():
        if cut[name] + missing.get(name, 0) != quantity:
            found.append(
                f"part {name}: {cut[name]} cut, {missing.get(name, 0)} left out, {quantity} asked for"
            )
    if len(missing) != len(plan.unplaced) or any(row.quantity <= 0 for row in plan.unplaced):
        found.append("a line is left out twice, or none of it is")
    tags = [row.tag for row in plan.sticks if row.strip < 2]
    if tags != [stick.tag for stick in problem.sticks if stick.tag in set(tags)]:
        found.append("sticks are repeated or not in the order of the problem")
    return found


def _rip_faults(problem: CutProblem, stick: CutStick, rows: list[StickPlan]) -> list[str]:
    """Condition 13: strips of a plank as wide as their widest part, and side by side on it."""
    if not rows:
        return []
    found = []
    numbers = [row.strip for row in rows]
    if numbers != ([0] if len(rows) == 1 else list(range(1, len(rows) + 1))):
        found.append(f"strips of stick {stick.tag} are numbered {numbers}")
    widths = [_rough_width(problem, stick, [piece.part for piece in row.pieces]) for row in rows]
    given = [row.width for row in rows]
    if given != ([None] if len(rows) == 1 else widths):
        found.append(f"strips of stick {stick.tag} are {given} wide, not {widths}")
    if not _side_by_side(problem, stick, widths):
        found.append(f"strips of stick {stick.tag}, {widths} wide, do not lie side by side on it")
    elif len(rows) > 1 and widths != sorted(widths, reverse=True):
        found.append(f"strips of stick {stick.tag} are not ripped in order of width")
    return found


def _stick_faults(problem: CutProblem, stick: CutStick, row: StickPlan) -> list[str]:
    """Conditions 2 to 6, 8 and 9 for one stick."""
    found, rules = [], problem.rules
    parts = {part.name: part for part in problem.parts}
    if not row.pieces:
        found.append(f"stick {row.tag} is opened for nothing")
    for piece in row.pieces:
        part = parts.get(piece.part)
        if part is None:
            continue
        if not 0 <= piece.start < piece.end <= stick.length:
            found.append(f"{piece} is not on stick {row.tag}")
        if piece.end - piece.start != part.length + rules.squaring:
            found.append(f"{piece} has the wrong length")
        if not may_be_cut(part, stick, rules):
            found.append(f"{piece} may not be cut from stick {row.tag}")
        for low, high in zones(stick, rules):
            if (piece.start < high and low < piece.end) or piece.start < low == high < piece.end:
                found.append(f"{piece} lies over the lost zone {low} to {high} of stick {row.tag}")
    if list(row.pieces) != sorted(row.pieces, key=lambda piece: piece.start):
        found.append(f"pieces of stick {row.tag} are not in order")
    if not found:
        found += _stretch_faults(problem, stick, row)
    return found


def _stretch_faults(problem: CutProblem, stick: CutStick, row: StickPlan) -> list[str]:
    """Gaps between pieces, leftovers and the balance of each stretch of good wood."""
    found, kerf = [], problem.rules.kerf
    leftovers = []
    for low, high in stretches(stick, problem.rules):
        inside = [piece for piece in row.pieces if low <= piece.start and piece.end <= high]
        here, slits = low, 0
        for piece in inside:
            slits += piece.start > here  # wood left before it is sawn off on its own, or the blade eats it
            if piece.start < here:
                found.append(f"{piece} of stick {row.tag} is nearer than a kerf to its neighbour, or on it")
            elif piece.start - here > kerf:
                leftovers.append((here, piece.start - kerf))
            here = piece.end + kerf
        if here < high:
            leftovers.append((here, high))
        reported = [cut for cut in row.offcuts if low <= cut[0] and cut[1] <= high]
        lost = high - low - sum(p.end - p.start for p in inside) - sum(b - a for a, b in reported)
        cuts = len(inside)
        if not max(0, cuts - 1) * kerf <= lost <= (cuts + slits) * kerf:
            found.append(f"stick {row.tag}, {low} to {high}: {lost} is lost to {cuts} cuts")
    if sorted(row.offcuts) != sorted(leftovers):
        found.append(f"leftovers of stick {row.tag} are {leftovers}, not {row.offcuts}")
    return found


def _reason_faults(problem: CutProblem, plan: CutPlan) -> list[str]:
    """Condition 14: reasons are true, and nothing is left out that still has a place."""
    found, rules = [], problem.rules
    parts = {part.name: part for part in problem.parts}
    longest = {
        s.tag: max((b - a for a, b in stretches(s, rules)), default=Fraction(0)) for s in problem.sticks
    }
    for row in plan.unplaced:
        part = parts[row.part]
        rough = part.length + rules.squaring
        allowed = [s.tag for s in problem.sticks if may_be_cut(part, s, rules)]
        own = max((longest[tag] for tag in allowed), default=Fraction(0))
        if own >= rough:
            why = "no_room"
        elif not problem.sticks:
            why = "no_sticks"
        else:
            why = "barred" if any(length >= rough for length in longest.values()) else "too_long"
        if (row.why, row.longest, row.critical) != (why, own, part.critical):
            found.append(f"part {row.part} is left out because {why}, longest {own}; not {row}")
        if any(_has_place(problem, plan, stick, part) for stick in problem.sticks if stick.tag in allowed):
            found.append(f"part {row.part} is left out and still has a place")
    return found


def _has_place(problem: CutProblem, plan: CutPlan, stick: CutStick, part: CutPart) -> bool:
    """Could one part more be cut from a leftover, or from a strip more?"""
    rough = part.length + problem.rules.squaring
    rows = _rows(plan, stick.tag)
    contents = [[piece.part for piece in row.pieces] for row in rows]
    for number, row in enumerate(rows):
        more = [[*names, part.name] if n == number else names for n, names in enumerate(contents)]
        if any(b - a >= rough for a, b in row.offcuts) and _side_by_side(
            problem, stick, [_rough_width(problem, stick, names) for names in more]
        ):
            return True
    beside = [_rough_width(problem, stick, names) for names in [*contents, [part.name]]]
    long_enough = any(b - a >= rough for a, b in stretches(stick, problem.rules))
    return long_enough and _side_by_side(problem, stick, beside)


def _boards(problem: CutProblem, plan: CutPlan) -> list[Fraction]:
    """Clear lengths of boards left beside strips, where the narrowest strip wanted still comes out."""
    found = []
    for stick in problem.sticks:
        rows = _rows(plan, stick.tag)
        narrow = _narrowest(problem, stick)
        if len(rows) > 1 and _side_by_side(problem, stick, [*(row.width for row in rows), narrow]):
            found += [b - a for a, b in stretches(stick, problem.rules)]
    return found


def _figure_faults(problem: CutProblem, plan: CutPlan) -> list[str]:
    """Conditions 10 and 11: the figures recomputed, and the bounds on the right side."""
    tags = {row.tag for row in plan.sticks}
    sticks = {stick.tag: stick for stick in problem.sticks}
    least = problem.rules.least_offcut
    offcuts = [b - a for row in plan.sticks for a, b in row.offcuts]
    whole = [b - a for s in problem.sticks if s.tag not in tags for a, b in stretches(s, problem.rules)]
    whole += _boards(problem, plan)
    length = sum((sticks[row.tag].length for row in plan.sticks), Fraction(0))
    used = sum((piece.end - piece.start for row in plan.sticks for piece in row.pieces), Fraction(0))
    true = {
        "placed": sum(len(row.pieces) for row in plan.sticks),
        "unplaced_count": sum(row.quantity for row in plan.unplaced),
        "unplaced_critical": sum(row.quantity for row in plan.unplaced if row.critical),
        "sticks_used": len({sticks[tag].origin or tag for tag in tags}),
        "sticks_opened": len([tag for tag in tags if not sticks[tag].started]),
        "largest_offcut": max((n for n in offcuts + whole if n >= least), default=Fraction(0)),
        "waste": length - used - sum(n for n in offcuts if n >= least),
        "opened_length": length,
    }
    found = [f"{k} is {v}, not {getattr(plan, k)}" for k, v in true.items() if getattr(plan, k) != v]
    if not 0 <= plan.fewest_possible <= plan.sticks_opened:
        found.append(f"{plan.fewest_possible} sticks are said to be needed, {plan.sticks_opened} do")
    if plan.optimal and plan.fewest_possible != plan.sticks_opened:
        found.append("said to be proved best, but the bound is not met")
    return found
