"""`python -m tests.torture kills|keys|damage|hostile --count N --seed N`: what the suite runs short, in full.

Each prints a line of figures and ends with 0 if nothing was wrong.
"""

import argparse
import sys
from importlib import import_module

COUNTS = {"kills": 1_000, "keys": 100_000, "damage": 10_000, "hostile": 10_000}


def main() -> int:
    """Run one."""
    parser = argparse.ArgumentParser(prog="python -m tests.torture", description=__doc__)
    parser.add_argument("what", choices=COUNTS)
    parser.add_argument("--count", type=int, help="how often; " + str(COUNTS))
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    count = given.count or COUNTS[given.what]
    return 1 if import_module(f"tests.torture.{given.what}").run(count, given.seed) else 0


if __name__ == "__main__":
    sys.exit(main())
