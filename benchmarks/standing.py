"""How fast stems are bent and pieces judged, measured beside the target.

Run: python benchmarks/standing.py

Bending: 1,000 stems in one call, against a general solver of boundary value problems
(scipy.integrate.solve_bvp, collocation) that takes them one by one. The solver is timed on 40 of
them, at its usual tolerance of 1e-3; its time for 1,000 is reckoned from that. The ends are
compared on the same 40, with the solver at 1e-8.
Verdict: both levels, 400 samples, without remedies; the median of 25 runs.
"""

from __future__ import annotations

import math
import statistics
import time
from collections.abc import Callable

import numpy as np
from scipy.integrate import solve_bvp

from nejime.forms.holder import holder
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.standing.bending import GRAVITY_M_S2, bent, rods
from nejime.standing.masses import Body
from nejime.standing.verdict import judge

STEMS, COMPARED, RUNS = 1000, 40, 25
TAPER = 0.35


def stems_drawn() -> dict[str, np.ndarray]:
    """Branches as they come: 20 to 70 cm, 5 to 10 mm, with a head of up to 20 g."""
    lot = np.random.default_rng(7)
    length = lot.uniform(20, 70, STEMS)
    thick = np.maximum(lot.uniform(5, 10, STEMS), 0.12 * length)
    return {
        "length_cm": length,
        "tilt_deg": lot.uniform(5, 85, STEMS),
        "thickness_mm": thick,
        "stiffness_gpa": 2.5 * np.exp(lot.normal(0, 0.3, STEMS)),
        "stem_g": 0.6 * math.pi / 4 * (thick / 10) ** 2 * length,
        "head_g": lot.uniform(0, 20, STEMS),
    }


def one_by_one(stem: dict[str, float], tolerance: float) -> tuple[float, float]:
    """End of one stem (out, up, in cm) by collocation."""
    along, tilt = stem["length_cm"] / 100, math.radians(stem["tilt_deg"])
    foot = stem["stiffness_gpa"] * 1e9 * math.pi / 64 * (stem["thickness_mm"] / 1000) ** 4
    weight = stem["stem_g"] / 1000 * GRAVITY_M_S2
    head = stem["head_g"] / 1000 * GRAVITY_M_S2
    fall = 1 - TAPER
    whole = 1 - fall + fall**2 / 3

    def slope(s: np.ndarray, y: np.ndarray) -> np.ndarray:
        above = head + weight * (1 - (s - fall * s**2 + fall**2 * s**3 / 3) / whole)
        return np.vstack(
            [
                along * y[1] / (foot * (1 - fall * s) ** 4),
                -along * above * np.sin(y[0]),
                along * np.sin(y[0]),
                along * np.cos(y[0]),
            ]
        )

    def ends(at_foot: np.ndarray, at_end: np.ndarray) -> np.ndarray:
        return np.array([at_foot[0] - tilt, at_end[1], at_foot[2], at_foot[3]])

    s = np.linspace(0, 1, 21)
    guess = np.zeros((4, len(s)))
    guess[0] = tilt
    found = solve_bvp(slope, ends, s, guess, tol=tolerance, max_nodes=5000)
    return 100 * float(found.y[2, -1]), 100 * float(found.y[3, -1])


def seconds(work: Callable[[], object], runs: int) -> float:
    """Median time of some runs, after one that is not counted."""
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def bending() -> None:
    """Prints how much faster all at once is, and how far the ends are off."""
    drawn = stems_drawn()
    given = {name: drawn[name] for name in ("thickness_mm", "stiffness_gpa", "stem_g", "head_g")}
    lot = rods(**given, taper=TAPER)
    ours = seconds(lambda: bent(lot, drawn["length_cm"], drawn["tilt_deg"]), RUNS)
    found = bent(lot, drawn["length_cm"], drawn["tilt_deg"])
    some = [{name: float(each[at]) for name, each in drawn.items()} for at in range(COMPARED)]
    start = time.perf_counter()
    for stem in some:
        one_by_one(stem, 1e-3)
    theirs = (time.perf_counter() - start) / COMPARED * STEMS
    missed = []
    for at, stem in enumerate(some):
        out, up = one_by_one(stem, 1e-8)
        off = math.hypot(out - float(found.end_out_cm[at]), up - float(found.end_up_cm[at]))
        missed.append(off / stem["length_cm"])
    print(f"bending {STEMS} stems in one call      {1000 * ours:8.1f} ms")
    print(f"solve_bvp, reckoned from {COMPARED} of them  {1000 * theirs:8.0f} ms")
    print(f"times faster                       {theirs / ours:8.0f}    target at least 200")
    off = 100 * max(missed)
    print(f"end of stem, worst of {COMPARED}           {off:8.3f} % of length, target 0.1 %")


def verdicts() -> None:
    """Prints how long a verdict takes for three stems and for fifteen."""
    three = piece(
        vessel("round", 30, 6), packaged()["width-plus-height"], "upright", held=holder(7)
    )
    fifteen = with_supporting(three, helpers=5, hearts=3, leaves=4)
    known = {"first": Body("leafy-branch", 8), "third": Body("firm-stem", 6, 15)}
    for planned, target in ((three, 50), (fifteen, 150)):
        took = 1000 * seconds(lambda planned=planned: judge(planned, known), RUNS)
        count = len(planned.stems)
        print(f"verdict for {count:2d} stems               {took:8.1f} ms target {target} ms")


if __name__ == "__main__":
    bending()
    verdicts()
