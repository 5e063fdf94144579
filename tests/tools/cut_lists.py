"""Cut lists by chance, of the kind a shop has; invented, and the same for the same seed."""

import random
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from bench.core.cutting import CutPart, CutProblem, CutRules, CutStick

MM = Fraction(1, 1000)
INCH = Fraction(254, 10_000)
COMMON = (900, 1200, 1500, 1800, 2400, 3000, 3600)  # lengths of sticks [mm]


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


def random_planks(seed: int, parts: int = 0, planks: int = 0) -> CutProblem:
    """Parts of up to three sections from planks with knots; a few of either have no section."""
    chance = random.Random(seed)
    parts, planks = parts or chance.randint(4, 40), planks or chance.randint(2, 8)
    sides = [(10, 16), (12, 12), (16, 24)][: chance.randint(1, 3)]
    saw = replace(
        rules(chance.choice(["0", "2.4"]), chance.choice([0, 8]), 0, 0, chance.choice([0, 150])),
        rip_kerf=chance.choice([0, 2, Fraction(5, 2)]) * MM,
        edge=chance.choice([0, 3]) * MM,
        planing=chance.choice([0, 0, 1]) * MM,
    )
    stock = []
    for number in range(planks):
        thick, wide = chance.choice([16, 18, 20, 26]), chance.choice([18, 40, 60, 76, 90])
        stick = replace(_stick(chance, number, False), width=wide * MM, depth=thick * MM)
        stock.append(stick if chance.random() < 0.9 else replace(stick, width=None, depth=None))
    lines: list[CutPart] = []
    while parts > 0:
        quantity = min(parts, chance.randint(1, 6))
        parts -= quantity
        width, depth = chance.choice(sides)
        able = frozenset(stick.tag for stick in stock if stick.rank >= 0.4) if chance.random() < 0.2 else None
        part = CutPart(f"p{len(lines)}", chance.randint(80, 1500) * MM, quantity, chance.random() < 0.2, able)
        known = chance.random() < 0.95
        lines.append(replace(part, width=width * MM, depth=depth * MM) if known else part)
    return CutProblem(tuple(lines), tuple(stock), saw)


SECTIONS = ((10, 19), (12, 19), (16, 25), (19, 19), (19, 38), (19, 60))  # finished [mm]


def realistic_planks(seed: int, least: int, most: int) -> CutProblem:
    """A shop's list of so many parts of up to four sections, from planks of an inch with knots.

    The wood at hand is from a tenth more than the parts to twice as much.
    """
    chance = random.Random(seed)
    count = chance.randint(least, most)
    saw = replace(
        rules(chance.choice(["1.5", "2.4", "3.2"]), 5, 0, 0, 150),
        rip_kerf=chance.choice([24, 32]) * MM / 10,
        edge=chance.choice([0, 3]) * MM,
        planing=MM,
    )
    sections = chance.sample(SECTIONS, chance.randint(1, 4))
    lines = []
    for _ in range(chance.randint(min(4, count), min(30, count))):
        short = chance.random() < 0.65
        length = chance.randint(80, 600) if short else int(chance.triangular(600, 2300, 700))
        lines.append((length, chance.choice(sections)))
    picked = lines + [chance.choice(lines) for _ in range(count - len(lines))]
    wanted, wood, stock = sum(length * (wide + 5) for length, (_, wide) in picked), 0, list[CutStick]()
    wanted = int(wanted * chance.uniform(1.1, 2))
    while len(stock) < 3 or (wood < wanted and len(stock) < 40):
        wide = chance.choice([60, 90, 120, 150, 200])
        board = _board(chance, COMMON[4:] if count > 60 else COMMON[1:5], len(stock), 0.0)
        rank = chance.choice([0.4, 0.42, 0.44])
        stock.append(replace(board, rank=rank, width=wide * MM, depth=25 * MM))
        wood += int(board.length / MM) * wide
    parts = tuple(
        CutPart(
            f"p{number}",
            length * MM,
            picked.count((length, (deep, wide))),
            chance.random() < 0.2,
            width=wide * MM,
            depth=deep * MM,
        )
        for number, (length, (deep, wide)) in enumerate(dict.fromkeys(lines))
    )
    return CutProblem(parts, tuple(stock), saw)


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


def realistic(seed: int, least: int, most: int) -> CutProblem:
    """A shop's list of so many parts: few lengths, most of them short, from sticks with knots.

    Half of the lists have woods of different density, with parts that ask for the denser and critical ones.
    The wood at hand is from a little too short to twice what is needed.
    """
    chance = random.Random(seed)
    count = chance.randint(least, most)
    saw = rules(chance.choice(["1", "1.5", "2.4", "3.2"]), chance.choice([0, 5, 10, 15]), 0, 0, 150)
    graded = chance.random() < 0.5
    spread = chance.randint(min(4, count), min(30, count))
    lengths = [
        chance.randint(80, 600) if chance.random() < 0.65 else int(chance.triangular(600, 2300, 700))
        for _ in range(spread)
    ]
    picked = lengths + [chance.choice(lengths) for _ in range(count - spread)]
    wood, stock = 0, list[CutStick]()
    wanted = sum(picked) * chance.uniform(1.05, 2)
    common = COMMON[2:] if count > 60 else COMMON
    while len(stock) < 5 or (wood < wanted and len(stock) < 40):
        stick = _board(
            chance, common, len(stock), 0.0 if not graded else chance.choice([0.36, 0.38, 0.41, 0.44])
        )
        stock.append(stick)
        wood += int(stick.length / MM)
    lines = []
    for number, length in enumerate(lengths):
        floor = chance.choice([0, 0, 0, 0.38, 0.41]) if graded else 0
        able = frozenset(stick.tag for stick in stock if stick.rank >= floor) if floor else None
        critical = graded and chance.random() < 0.25
        lines.append(CutPart(f"p{number}", length * MM, picked.count(length), critical, able))
    unique = {line.length: line for line in lines}  # a length drawn twice is one line
    return CutProblem(tuple(unique.values()), tuple(stock), saw)


def _board(chance: random.Random, common: Sequence[int], number: int, rank: float) -> CutStick:
    """A stick of a common length with up to three knots, one in five with a split end."""
    length = chance.choice(common)
    lost = []
    for _ in range(chance.randint(0, 3)):
        start = chance.randint(0, length - 60)
        lost.append((start * MM, (start + chance.randint(5, 60)) * MM))
    if chance.random() < 0.2:
        lost.append(((length - chance.randint(20, 150)) * MM, length * MM))
    return CutStick(f"s{number}", length * MM, tuple(lost), rank)


def sawn_up(stock: Sequence[CutStick], saw: CutRules, chance: random.Random) -> list[Fraction]:
    """The lengths that these sticks give, sawn up without a remainder."""
    lengths = []
    for stick in stock:
        left = stick.length
        while left > 500 * MM:
            length = chance.randint(150, 400) * MM
            lengths.append(length)
            left -= length + saw.kerf
        lengths.append(left)
    return lengths


def cut_up_backwards(seed: int, sticks: int) -> CutProblem:
    """So many sticks sawn up without a remainder, and a few more beside: all are needed, and no more."""
    chance = random.Random(seed)
    saw = rules(chance.choice(["0", "2.4"]))
    stock = [CutStick(f"s{n}", chance.choice([1200, 1800]) * MM) for n in range(sticks)]
    lengths = sawn_up(stock, saw, chance)
    spare = [CutStick(f"x{n}", 1200 * MM) for n in range(2)]
    return CutProblem(
        tuple(CutPart(f"p{n}", length, 1) for n, length in enumerate(lengths)), (*stock, *spare), saw
    )
