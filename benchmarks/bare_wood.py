"""Bare wood: twenty published problems of 120 pieces, measured beside their known optimum.

Run: python benchmarks/bare_wood.py

The problems u120_00 to u120_19 are in `authorities/cutting`. The optima are those of the published
lists of bounds; the file's own are out of date for two of them.
"""

from __future__ import annotations

import statistics
import time
from collections import Counter
from pathlib import Path

from nejime.material.bare import Stick, bare_plan

PROBLEMS = Path(__file__).parent.parent / "authorities" / "cutting" / "binpack1.txt"
OPTIMA = (48, 49, 46, 49, 50, 48, 48, 49, 50, 46, 52, 49, 48, 49, 50, 48, 52, 52, 49, 49)
MOST_S = 30.0


def main() -> None:
    """Every problem, one line each."""
    words = PROBLEMS.read_text("ascii").split()
    at, times, reached = 1, [], 0
    print(f"{'problem':<10} {'found':>6} {'optimum':>8} {'proven':>7} {'seconds':>8}")
    for optimum in OPTIMA:
        name, capacity, count = words[at], int(float(words[at + 1])), int(words[at + 2])
        items = Counter(int(each) for each in words[at + 4 : at + 4 + count])
        at += 4 + count
        began = time.perf_counter()
        plan = bare_plan(list(items), list(items.values()), [Stick(capacity)], most_s=MOST_S)
        times.append(time.perf_counter() - began)
        reached += plan.price == optimum
        said = "yes" if plan.proven else "no"
        print(f"{name:<10} {plan.price:>6} {optimum:>8} {said:>7} {times[-1]:>8.2f}", flush=True)
    print(f"{reached} of {len(OPTIMA)} optima, median {statistics.median(times):.2f} s")


if __name__ == "__main__":
    main()
