"""How good and how quick cut plans are: `python -m tests.speed.cuts [--lists N] [--first N] [--moves M] ...`.

Quality is the share of lists whose first three aims are as good as the best known, which is the better of a
general-purpose solver (CP-SAT of OR-Tools, some seconds for each aim) and a search of many more moves; lists
that are proved best ask no solver. Time is processor time of the plan alone, never of the solver. The bars:
the quick packings 10 ms; 50 ms up to 60 parts on 20 sticks, 100 ms up to 150 parts on 40. Lists of up to 60
parts have up to 40 sticks here, so the longest of those with no more than 20 is told as well. Lists to be
ripped from planks, a third as many, have no solver: their best known is a search of twice as many moves.

With `--times RUNS`: only how long the lists take, the least of so many runs. With `--large LINES STICKS`: how
long one list of that size takes, and nothing else.

With `--instances`: bin-packing lists from a file or a folder of files as JSON, {"instances": [{"name",
"capacity", "items": [[size, count], ...], "optimum"}, ...]}.
"""

import argparse
import gc
import json
import time
from collections.abc import Callable, Iterator
from fractions import Fraction
from math import lcm
from pathlib import Path
from random import Random

from ortools.sat.python import cp_model

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, plan
from tests.checks.test_cut_small_cases import CASES, _problem
from tests.tools.cut_lists import MM, cut_up_backwards, realistic, realistic_planks, rules
from tests.tools.plan_validator import faults, stretches

FEW = 20  # sticks that the bar for up to 60 parts is for
SEEDS = 3  # of long searches
LONG = 20_000  # moves that take about a second on a list of middle size

Tiers = tuple[int, int, int]


def yardstick() -> float:
    """Processor time of a piece of plain Python, the best of five [ms]; other days have other machines."""
    times = []
    for _ in range(5):
        began, total = time.process_time(), 0
        for n in range(500_000):
            total += n * n & 7
        times.append(time.process_time() - began)
    return min(times) * 1e3


def tiers(made: CutPlan) -> Tiers:
    """Critical parts out, parts out, sticks opened."""
    return made.unplaced_critical, made.unplaced_count, made.sticks_opened


def timed(problem: CutProblem, moves: int | None) -> tuple[CutPlan, float]:
    """A plan and its processor time [s]."""
    began = time.process_time()
    made = plan(problem) if moves is None else plan(problem, moves)
    return made, time.process_time() - began


def solver_tiers(problem: CutProblem, seconds: float) -> Tiers | None:
    """What the general-purpose solver reaches, so many seconds for each aim; None if it finds nothing."""
    model, (critical, out, opened) = _model(problem)
    found = None
    for total in (critical, out, opened):
        if isinstance(total, int):
            continue
        model.Minimize(total)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.max_time_in_seconds = seconds
        if solver.Solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        model.Add(total <= round(solver.ObjectiveValue()))
        found = tuple(n if isinstance(n, int) else int(solver.Value(n)) for n in (critical, out, opened))
    return found


def _model(problem: CutProblem) -> tuple[cp_model.CpModel, list[cp_model.LinearExpr]]:
    """How many of each part lie in each clear length, which sticks are opened; and the aims."""
    saw = problem.rules
    clear = {stick.tag: [b - a for a, b in stretches(stick, saw)] for stick in problem.sticks}
    lengths = [
        saw.kerf,
        *(part.length for part in problem.parts),
        *(n for row in clear.values() for n in row),
    ]
    scale = lcm(*(Fraction(length).denominator for length in lengths))
    model = cp_model.CpModel()
    opened = {tag: model.NewBoolVar("") for tag in clear}
    load: dict[tuple[str, int], list[cp_model.LinearExpr]] = {}
    out = {}
    for part in problem.parts:
        lying = []
        for tag, row in clear.items():
            for n, length in enumerate(row):
                if (part.sticks is None or tag in part.sticks) and part.length <= length:
                    many = model.NewIntVar(0, part.quantity, "")
                    lying.append(many)
                    load.setdefault((tag, n), []).append(int((part.length + saw.kerf) * scale) * many)
        out[part.name] = model.NewIntVar(0, part.quantity, "")
        model.Add(sum(lying) + out[part.name] == part.quantity)
    for (tag, n), terms in load.items():
        model.Add(sum(terms) <= int((clear[tag][n] + saw.kerf) * scale) * opened[tag])
    critical = [out[part.name] for part in problem.parts if part.critical]
    return model, [sum(critical), sum(out.values()), sum(opened.values())]


def best_known(problem: CutProblem, seconds: float) -> Tiers:
    """The better of the solver and some long searches; neither goes on where a search has proved it."""
    found = []
    for seed in range(1, 1 + SEEDS):
        made = plan(problem, LONG, seed)
        found.append(tiers(made))
        if made.optimal:
            return min(found)
    solved = solver_tiers(problem, seconds) if seconds else None
    return min([*found, solved] if solved else found)


def instances(path: Path) -> Iterator[tuple[str, CutProblem, Tiers]]:
    """Bin-packing lists as cut lists: as many sticks as needed and a quarter more, no kerf."""
    for file in sorted(path.glob("*.json")) if path.is_dir() else [path]:
        for row in json.loads(file.read_text(encoding="utf-8")).get("instances", []):
            parts = tuple(CutPart(f"p{size}", size * MM, many) for size, many in row["items"])
            count = -(-row["optimum"] * 5 // 4)
            sticks = tuple(CutStick(f"s{n}", row["capacity"] * MM) for n in range(count))
            yield row["name"], CutProblem(parts, sticks, rules()), (0, 0, row["optimum"])


def report(
    title: str, rows: list[tuple[str, CutProblem, Callable[[], Tiers]]], given: argparse.Namespace
) -> None:
    """One line of figures for a set of lists."""
    if not rows:
        return
    gc.collect()
    gc.freeze()  # as the app does: the solver's own things are not gone through while a plan is timed
    times, quick, missed, worst = list[tuple[float, int]](), [], [], 0
    fitting = fit_missed = proved = 0
    for name, problem, reference in rows:
        runs = [(timed(problem, 0)[1], *timed(problem, given.moves)) for _ in range(max(1, given.times))]
        quick.append(min(first for first, _, _ in runs))
        times.append((min(full for _, _, full in runs) * 1e3, len(problem.sticks)))
        made = runs[0][1]
        assert faults(problem, made) == [], name
        proved += made.optimal
        if given.times:
            continue
        best = min(reference(), tiers(made))
        fits = best[:2] == (0, 0)
        fitting += fits
        if tiers(made) != best:
            missed.append(name)
            fit_missed += fits
            worst = max(worst, tiers(made)[2] - best[2]) if fits else worst
            if given.verbose:
                print(f"    {name}: {tiers(made)}, best known {best}")
    good = (
        f"{len(rows) - len(missed)} of {len(rows)} as good as the best known, "
        f"{fitting - fit_missed} of {fitting} where all fits (worst {worst} sticks more)"
    )
    said = f"{len(rows)} lists" if given.times else good
    print(f"{title}: {said}, {proved} proved; {took(times, quick)}", flush=True)


def took(times: list[tuple[float, int]], quick: list[float]) -> str:
    """How long plans took, (ms, sticks) of each, and quick packings [s]."""
    times, quick = sorted(times), sorted(quick)
    few = max([ms for ms, sticks in times if sticks <= FEW], default=0.0)
    return (
        f"median {times[len(times) // 2][0]:.0f} ms, nine in ten {times[len(times) * 9 // 10][0]:.0f} ms, "
        f"longest {times[-1][0]:.0f} ms, of at most {FEW} sticks {few:.0f} ms, "
        f"quick packings {quick[len(quick) // 2] * 1e3:.1f} to {quick[-1] * 1e3:.1f} ms"
    )


def large(lines: int, sticks: int, moves: int | None) -> None:
    """A list of so many lines and sticks: seconds until the quick packings, until the full answer."""
    chance = Random(lines)
    parts = tuple(
        CutPart(f"p{n}", chance.randint(8_000, 60_000) * MM / 100, chance.randint(1, 3)) for n in range(lines)
    )
    stock = tuple(
        CutStick(f"s{n}", 2400 * MM, ((start * MM, (start + 30) * MM),))
        for n, start in enumerate(chance.choices(range(100, 2300), k=sticks))
    )
    problem = CutProblem(parts, stock, rules("2.4", 5, 0, 0, 150))
    for title, many in (("quick packings", 0), ("full answer", moves)):
        made, seconds = timed(problem, many)
        print(
            f"{lines} lines, {sticks} sticks, {title}: {seconds:.1f} s, {made.placed} parts placed",
            flush=True,
        )


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lists", type=int, default=20, help="of each size")
    parser.add_argument("--first", type=int, default=0, help="number of the first one, to have others")
    parser.add_argument("--only", choices=("sticks", "planks", "known"), help="one kind of list")
    parser.add_argument("--moves", type=int, help="instead of the default")
    parser.add_argument("--seconds", type=float, default=2.0, help="of the solver for each aim; 0: not asked")
    parser.add_argument("--instances", type=Path, help="file or folder of bin-packing lists")
    parser.add_argument("--times", type=int, default=0, metavar="RUNS", help="only times, the least of RUNS")
    parser.add_argument("--verbose", action="store_true", help="name the lists that are missed")
    parser.add_argument("--large", type=int, nargs=2, metavar=("LINES", "STICKS"), help="one list instead")
    given = parser.parse_args()
    if given.large:
        large(*given.large, given.moves)
        return
    print(f"half a million turns of a small loop take {yardstick():.0f} ms here", flush=True)
    if given.only in (None, "sticks"):
        sticks(range(given.first, given.first + given.lists), given)
    if given.only in (None, "planks"):
        planks(range(given.first, given.first + given.lists // 3), given)
    if given.only in (None, "known"):
        known(given)


def sticks(seeds: range, given: argparse.Namespace) -> None:
    """Lists of a shop, from sticks."""
    for title, least, most in (("up to 60 parts", 10, 60), ("61 to 150 parts", 61, 150)):
        made = [(f"{seed}", realistic(seed, least, most)) for seed in seeds]
        rows = [(name, problem, lambda p=problem: best_known(p, given.seconds)) for name, problem in made]
        report(title, rows, given)


def planks(seeds: range, given: argparse.Namespace) -> None:
    """Lists of a shop, to be ripped from planks first."""
    for title, least, most in (("planks, up to 60 parts", 10, 60), ("planks, 61 to 150 parts", 61, 150)):
        made = [(f"{seed}", realistic_planks(seed, least, most)) for seed in seeds]
        rows = [(name, problem, lambda p=problem: tiers(plan(p, 2 * LONG))) for name, problem in made]
        report(title, rows, given)


def known(given: argparse.Namespace) -> None:
    """Lists whose best is known from the outset."""
    seeds = range(given.first, given.first + given.lists)
    backwards = [(f"{n}", cut_up_backwards(n, 3 + n % 6), (0, 0, 3 + n % 6)) for n in seeds]
    small = [(case.name, _problem(case), case.tiers) for case in CASES]
    public = list(instances(given.instances)) if given.instances else []
    for title, cases in (("cut up backwards", backwards), ("small cases", small), ("public lists", public)):
        if cases:
            rows = [(name, problem, lambda best=best: best) for name, problem, best in cases]
            report(title, rows, given)


if __name__ == "__main__":
    main()
