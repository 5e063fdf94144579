"""How long a section takes: `python -m tests.speed.sections` prints a table, `--json FILE` writes it as well.

Each figure is the best of several repeats, so that other work on the machine spoils few of them. The bars:
100 microseconds for a rectangle with all ratios, 1 ms for any shape and match, 30 ms for ranking 30 woods.
"""

import argparse
import json
from collections.abc import Callable
from pathlib import Path
from timeit import repeat

from bench.core import ranking, strength
from bench.core.laminated import Ply
from bench.core.resizing import CAPACITIES, resize
from bench.core.sections import Shape, made
from bench.library import load

WOODS = load().species
SPRUCE, ASH = strength.of(WOODS["sitka_spruce"]), strength.of(WOODS["white_ash"])
INCH = 0.0254
SHAPES: dict[str, Shape] = {
    "rectangle": made("rectangle", 0.75 * INCH, 1.5 * INCH),
    "round": made("round", INCH, INCH),
    "box": made("box", 2 * INCH, 6 * INCH, 0.75 * INCH, 0.125 * INCH),
    "i": made("i", INCH, 4 * INCH, 0.75 * INCH, 0.25 * INCH),
}
LAYERS = (Ply(ASH, 0.125 * INCH), Ply(SPRUCE, 0.5 * INCH), Ply(ASH, 0.125 * INCH))
LENGTH = 18 * INCH  # an intermediate column [m]


def best(work: Callable[[], object], number: int) -> float:
    """Seconds of one run, the best of seven repeats."""
    return min(repeat(work, number=number, repeat=7)) / number


def solves() -> dict[str, float]:
    """The slowest match of each shape [s]."""
    matches = ("weight", *CAPACITIES)
    found = {}
    for name, shape in SHAPES.items():
        times = [
            best(lambda shape=shape, match=match: resize(shape, SPRUCE, ASH, match, "", LENGTH), 100)
            for match in matches
        ]
        found[f"{name}, slowest of {len(matches)} matches"] = max(times)
    square = SHAPES["rectangle"]
    found["rectangle, weaker in nothing"] = best(lambda: resize(square, SPRUCE, ASH, "all", "", LENGTH), 100)
    found["layers, bending"] = best(
        lambda: resize(square, SPRUCE, ASH, "bending", "", LENGTH, layers=LAYERS), 50
    )
    return found


def ranked() -> dict[str, float]:
    """Ranking as many woods as make thirty [s]."""
    thirty = {f"{key} {turn}": wood for turn in range(2) for key, wood in WOODS.items()}
    woods = dict(list(thirty.items())[:30])
    asks = {name: ranking.Ask(SHAPES["rectangle"], match=name) for name in ("weight", "bending", "all")}
    return {
        f"30 woods ranked by {name}": best(lambda ask=ask: ranking.rank(ask, WOODS["sitka_spruce"], woods), 3)
        for name, ask in asks.items()
    }


def main() -> None:
    """Measure, print, and write where asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--json", type=Path)
    given = parser.parse_args()
    times = {**solves(), **ranked()}
    width = max(map(len, times))
    for name, seconds in times.items():
        print(f"{name:<{width}}  {seconds * 1e6:10.1f} us")
    if given.json:
        given.json.write_text(json.dumps(times, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
