"""How long it takes from the last mark to the answer, beside the target.

Run: python benchmarks/measuring.py

Simulated pieces with three stems and eight points on the rim (`tests/photo/simulated.py`), one
picture and two, with and without the marker card and the lens's focal length. Each answer is timed
by itself, after one that does not count; the median and the slowest of them are told, and what the
import costs the first time.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from photo.simulated import Setting, scenes  # noqa: E402

from nejime.photo.measuring import measure  # noqa: E402

TARGET_S, RUNS = 1.0, 15
TWO = Setting()
ONE = Setting(views=1, lengths=True, plan=True)
SETTINGS = {
    "one picture and lengths": ONE,
    "one picture alone": replace(ONE, lengths=False),
    "one picture with the card": replace(ONE, card=True, focal="unknown"),
    "two pictures": TWO,
    "two pictures, rectangle": replace(TWO, vessels=("rectangle",)),
    "two pictures, tall vase": replace(TWO, vessels=("vase",)),
    "two pictures with the card": replace(TWO, card=True, focal="unknown"),
    "two pictures, nothing told": replace(TWO, focal="unknown", base="absent", pins=False),
}


def seconds(setting: Setting) -> list[float]:
    """Of each answer."""
    asked = [scene.asked for scene in scenes(setting, RUNS, seed=2)]
    measure(asked[0])
    taken = []
    for each in asked:
        began = time.perf_counter()
        measure(each)
        taken.append(time.perf_counter() - began)
    return taken


def importing() -> float:
    """Seconds of the import in a process of its own, less those of an empty one."""
    taken = []
    for words in ("pass", "import nejime.photo.measuring"):
        began = time.perf_counter()
        subprocess.run([sys.executable, "-c", words], check=True)
        taken.append(time.perf_counter() - began)
    return taken[1] - taken[0]


def main() -> None:
    """Measure and print."""
    print(f"from the last mark to the answer, target {TARGET_S} s:")
    for name, setting in SETTINGS.items():
        taken = seconds(setting)
        print(f"  {name:28s} {statistics.median(taken):5.2f} s, slowest {max(taken):5.2f} s")
    print(f"imported the first time: {importing():.2f} s more")


if __name__ == "__main__":
    main()
