"""Cut lists by chance, of the kind a shop has; invented, and the same for the same seed."""

import random
from fractions import Fraction

from bench.core.cutting import CutPart, CutProblem, CutRules, CutStick

MM = Fraction(1, 1000)
INCH = Fraction(254, 10_000)


def rules(
    kerf: object = 0, trim: object = 0, margin: object = 0, squaring: object = 0, least: object = 0
) -> CutRules:
    """Rules from millimetres, given as a number or as decimal text."""
    return CutRules(*(Fraction(str(value)) * MM for value in (kerf, trim, margin, squaring, least)))


def random_problem(seed: int, parts: int = 0, sticks: int = 0) -> CutProblem:
    """Some parts on some sticks with defects; some lists mix inches in, some bar parts from lesser sticks."""
    chance = random.Random(seed)
    parts, sticks = parts or chance.randint(1, 45), sticks or chance.randint(1, 14)
    inches = chance.random() < 0.3
    saw = rules(
        chance.choice(["0", "1", "2.4", "3.2"]),
        chance.choice([0, 0, 5, 12]),
        chance.choice([0, 0, 3]),
        chance.choice([0, 0, 2]),
        chance.choice([0, 150]),
    )
    stock = tuple(_stick(chance, number, inches) for number in range(sticks))
    graded = chance.random() < 0.5
    lines: list[CutPart] = []
    while parts > 0:
        quantity = min(parts, chance.randint(0, 6))
        parts -= max(1, quantity)
        length = chance.randint(60, 600) if chance.random() < 0.75 else chance.randint(600, 2300)
        exact = Fraction(length * 64 // 1600, 64) * 63 * INCH if inches and length > 100 else length * MM
        floor = chance.choice([0, 0, 0.36, 0.39, 0.42]) if graded else 0
        able = frozenset(stick.tag for stick in stock if stick.rank >= floor) if floor else None
        if graded and chance.random() < 0.1:
            able = frozenset(chance.sample([stick.tag for stick in stock], chance.randint(0, len(stock))))
        lines.append(CutPart(f"p{len(lines)}", exact, quantity, graded and chance.random() < 0.3, able))
    return CutProblem(tuple(lines), stock, saw)


def _stick(chance: random.Random, number: int, inches: bool) -> CutStick:
    """A stick with up to three defects, some reversed, some over the end."""
    length = (
        chance.choice([36, 48, 72, 96]) * INCH
        if inches
        else chance.choice([900, 1200, 1800, 2400, 3000]) * MM
    )
    lost = []
    for _ in range(chance.randint(0, 3)):
        start = Fraction(chance.randint(-20, int(length / MM)), 1) * MM
        end = start + chance.choice([0, 1, 20, 60]) * MM
        lost.append((start, end) if chance.random() < 0.8 else (end, start))
    return CutStick(f"s{number}", length, tuple(lost), round(chance.uniform(0.34, 0.46), 3))
