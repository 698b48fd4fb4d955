"""How long `nejime stems` takes from the command to the answer, beside the target.

Run: python benchmarks/cold_start.py

Whole processes, the median of 15, against an interpreter that does nothing.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

TARGET_S = 0.5
RUNS = 15
STEMS = ["-m", "nejime", "stems", "--width", "30", "--height", "6"]
HEAVY = ("numpy", "scipy", "pydantic", "typst", "cv2", "PIL", "pi_heif")


def seconds(words: list[str]) -> float:
    """Median wall time of a Python process."""
    taken = []
    for _ in range(RUNS):
        began = time.perf_counter()
        subprocess.run([sys.executable, *words], check=True, capture_output=True)
        taken.append(time.perf_counter() - began)
    return statistics.median(taken)


def heavy_imports() -> list[str]:
    """Heavy packages that are imported on the way."""
    done = subprocess.run(
        [sys.executable, "-X", "importtime", *STEMS], check=True, capture_output=True, text=True
    )
    named = {line.rpartition("|")[2].strip() for line in done.stderr.splitlines()}
    return [name for name in HEAVY if name in named]


def main() -> None:
    """Measure and print."""
    empty, stems = seconds(["-c", "pass"]), seconds(STEMS)
    print(f"nejime stems, cold: {stems:.2f} s (target {TARGET_S} s)")
    print(f"an empty interpreter: {empty:.2f} s, so {stems / empty:.1f} times that")
    print(f"heavy packages imported on the way: {', '.join(heavy_imports()) or 'none'}")


if __name__ == "__main__":
    main()
