"""How far measured stems are from the truth, and how often their intervals hold it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from photo.simulated import Truth

from nejime.photo.answer import Interval, Line, Measured, MeasuredStem

LEANS_FROM_DEG = 10.0  # [own] a stem more upright than this has no direction worth a number


@dataclass
class Tally:
    """What was found of a setting."""

    errors: dict[str, list[float]] = field(default_factory=dict)
    within: dict[str, list[bool]] = field(default_factory=dict)
    halves: dict[str, list[float]] = field(default_factory=dict)
    ratios: dict[str, list[float]] = field(default_factory=dict)
    statuses: dict[str, int] = field(default_factory=dict)
    times: list[float] = field(default_factory=list)
    failed: int = 0

    def percentile(self, what: str, percent: float) -> float:
        """Of an error."""
        return float(np.percentile(self.errors[what], percent))

    def share_within(self, what: str) -> float:
        """The share of true values that lie in their intervals."""
        return float(np.mean(self.within[what]))

    def note(self, what: str, error: float, told: Interval | None = None) -> None:
        """An error, and whether an interval told of it; the error may be off by whole turns."""
        self.errors.setdefault(what, []).append(abs(error))
        if told is not None:
            true = told.value - error
            self.within.setdefault(what, []).append(told.low <= true <= told.high)
            self.halves.setdefault(what, []).append(told.half)
            side = told.high - told.value if true > told.value else told.value - told.low
            self.ratios.setdefault(what, []).append(abs(error) / max(side, 1e-9))


def turned(degrees: float) -> float:
    return (degrees + 180.0) % 360.0 - 180.0


def judge(tally: Tally, truths: tuple[Truth, ...], found: Measured) -> None:
    """Compares every stem with the truth."""
    for truth in truths:
        judge_stem(tally, truth, found.stem(truth.id))


def judge_stem(tally: Tally, truth: Truth, found: MeasuredStem) -> None:
    """Compares one stem with the truth; of two answers the nearer one counts."""
    tally.statuses[found.status] = tally.statuses.get(found.status, 0) + 1
    for told, true in zip(found.picture_lean_deg, truth.leans_deg, strict=True):
        if told is not None:
            tally.note("in picture", turned(told.value - true), told)
    lines = [each for each in (found.line, found.other) if each is not None]
    if not lines:
        return
    line = min(lines, key=lambda each: _angle(each, truth))
    tally.note("lean", line.tilt_deg.value - truth.tilt_deg, line.tilt_deg)
    turn = turned(line.bearing_deg.value - truth.bearing_deg)
    tally.note("direction all", turn, line.bearing_deg)
    if truth.tilt_deg >= LEANS_FROM_DEG:
        tally.note("direction", turn, line.bearing_deg)
    tally.note("in space", _angle(line, truth))
    off = line.length_cm.value - truth.length_cm
    tally.note("length cm", off, line.length_cm)
    tally.note("length %", 100.0 * off / truth.length_cm)


def _angle(line: Line, truth: Truth) -> float:
    step = np.array(line.end_cm) - np.array(line.foot_cm)
    cos = float(step @ truth.line / np.linalg.norm(step))
    return math.degrees(math.acos(max(-1.0, min(1.0, cos))))
