"""How exactly pictures are measured: the errors of simulated pieces, setting by setting.

Run: PYTHONPATH=src python workings/measuring_accuracy.py [SETTING …] [--scenes N] [--seed N]
Prints, of each setting: median and 90th percentile of the errors of lean, direction (of stems that
lean by 10° or more; of all as the angle in space) and length, what share of the true values lies in
the 95 % intervals, half the intervals' width, what could not be measured, and an answer's time.
"""

from __future__ import annotations

import argparse
import sys
import time
import traceback
from dataclasses import replace
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from photo.judging import Tally, judge  # noqa: E402
from photo.simulated import Scene, Setting, scenes  # noqa: E402

from nejime.photo.answer import Measured  # noqa: E402

ALL = ("dish", "rectangle", "dish", "vase")
SIZES = ((4032, 3024), (3024, 4032), (2016, 1512), (1600, 1200), (8064, 6048))
TWO = Setting()
ONE = Setting(views=1, lengths=True, plan=True)
SETTINGS = {
    "two": TWO,
    "two-true": replace(TWO, focal="true"),
    "two-unknown": replace(TWO, focal="unknown"),
    "two-lenses": replace(TWO, one_lens=False),
    "two-lenses-unknown": replace(TWO, one_lens=False, focal="unknown"),
    "two-lengths": replace(TWO, lengths=True),
    "two-rect": replace(TWO, vessels=("rectangle",)),
    "two-rect-unknown": replace(TWO, vessels=("rectangle",), focal="unknown"),
    "two-vase": replace(TWO, vessels=("vase",)),
    "two-card": replace(TWO, card=True),
    "two-card-unknown": replace(TWO, card=True, focal="unknown"),
    "two-bent": replace(TWO, k1=0.05),
    "two-off-middle": replace(TWO, off_middle=0.01),
    "two-no-base": replace(TWO, base="absent"),
    "two-hidden": replace(TWO, base="hidden"),
    "two-no-pins": replace(TWO, pins=False),
    "two-bare": replace(TWO, pins=False, base="absent", focal="unknown"),
    "two-sizes": replace(TWO, sizes=SIZES),
    "two-six": replace(TWO, rim_points=6),
    "two-steady": replace(TWO, noise_px=1.0),
    "two-shaky": replace(TWO, noise_px=6.0),
    "two-mixed": replace(TWO, vessels=ALL, k1=0.05, sizes=SIZES, off_middle=0.005),
    "one": ONE,
    "one-true": replace(ONE, focal="true"),
    "one-unknown": replace(ONE, focal="unknown"),
    "one-no-plan": replace(ONE, plan=False),
    "one-rect": replace(ONE, vessels=("rectangle",)),
    "one-vase": replace(ONE, vessels=("vase",)),
    "one-card": replace(ONE, card=True),
    "one-card-unknown": replace(ONE, card=True, focal="unknown"),
    "one-no-base": replace(ONE, base="absent"),
    "one-hidden": replace(ONE, base="hidden"),
    "one-bent": replace(ONE, k1=0.05),
    "one-no-length": replace(ONE, lengths=False),
    "one-mixed": replace(ONE, vessels=ALL, k1=0.05, sizes=SIZES, off_middle=0.005),
}
USUAL = ("two", "two-unknown", "two-rect", "two-vase", "two-card", "two-mixed", "one", "one-mixed")


def tallied(setting: Setting, count: int, seed: int, *, loud: bool = False) -> Tally:
    """Measures so many scenes of a setting."""
    from nejime.photo.measuring import measure

    tally = Tally()
    for number, scene in enumerate(scenes(setting, count, seed)):
        start = time.process_time()
        try:
            found = measure(scene.asked)
        except Exception:
            tally.failed += 1
            if loud:
                print(f"scene {number}:")
                traceback.print_exc()
            continue
        tally.times.append(time.process_time() - start)
        judge(tally, scene.truths, found)
        if loud:
            _tell(number, scene, found)
    return tally


def _tell(number: int, scene: Scene, found: Measured) -> None:
    for truth in scene.truths:
        stem = found.stem(truth.id)
        line = stem.line
        said = stem.status
        if line is not None:
            said += "".join(
                f"  {each.value:6.1f} [{each.low:.1f}, {each.high:.1f}]"
                for each in (line.tilt_deg, line.bearing_deg, line.length_cm)
            )
        true = f"{truth.tilt_deg:.1f} {truth.bearing_deg:.1f} {truth.length_cm:.1f}"
        print(f"{number:4d} {scene.kind:9s} {truth.id}  true {true}  found {said}")


WHATS = ("in picture", "lean", "direction", "direction all", "in space", "length %", "length cm")


def table(name: str, tally: Tally) -> str:
    """A setting's lines."""
    lines = [f"{name}"]
    lines += [_row(what, tally) for what in WHATS if what in tally.errors]
    told = ", ".join(f"{count} {status}" for status, count in sorted(tally.statuses.items()))
    if tally.times:
        mean, most = np.mean(tally.times), max(tally.times)
        lines.append(
            f"  {told}; {tally.failed} failed; {mean:.3f} s an answer, {most:.3f} s at most"
        )
    else:
        lines.append(f"  {tally.failed} failed")
    return "\n".join(lines)


def _row(what: str, tally: Tally) -> str:
    """Errors, how many true values lie within, and what would make it 95 %."""
    errors = tally.errors[what]
    median, high = np.percentile(errors, [50, 90])
    told = f"  {what:14s} median {median:6.2f}  p90 {high:6.2f}  max {max(errors):7.2f}"
    if what in tally.within:
        half, needed = np.median(tally.halves[what]), np.percentile(tally.ratios[what], 95)
        told += f"  within {tally.share_within(what):.3f} of {len(errors)}"
        told += f"  ± {half:.2f}, to hold 95 %: × {needed:.2f}"
    return told


def main() -> None:
    """Prints the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("settings", nargs="*", default=USUAL, help=", ".join(SETTINGS))
    parser.add_argument("--scenes", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--loud", action="store_true", help="each stem, and each failure")
    asked = parser.parse_args()
    names = list(SETTINGS) if "all" in asked.settings else asked.settings
    for name in names:
        tally = tallied(SETTINGS[name], asked.scenes, asked.seed, loud=asked.loud)
        print(table(name, tally), flush=True)


if __name__ == "__main__":
    main()
