"""How different two arrangements of ends are: the mean way from each to its partner, paired best.

Model: ends of one kind are paired with ends of the same kind, for a branch where a flower was is a
difference; the cheapest pairing of the fewer with the more, by shortest augmenting paths.
Source: Kuhn (1955), as every text on the assignment problem has it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from nejime.composing.lines import Array, Index


def partners(cost: Array) -> Index:
    """The column (m ≥ n) of its own for every row (n), so that the sum of costs is the least."""
    rows, columns = cost.shape
    row_price, column_price = np.zeros(rows + 1), np.zeros(columns + 1)
    partner = np.zeros(columns + 1, dtype=int)
    for row in range(1, rows + 1):
        partner[0] = row
        least = np.full(columns + 1, np.inf)
        came = np.zeros(columns + 1, dtype=int)
        done = np.zeros(columns + 1, dtype=bool)
        at = 0
        while partner[at] != 0:
            done[at] = True
            here = partner[at]
            fresh = cost[here - 1] - row_price[here] - column_price[1:]
            better = ~done[1:] & (fresh < least[1:])
            least[1:][better], came[1:][better] = fresh[better], at
            to = 1 + int(np.argmin(np.where(done[1:], np.inf, least[1:])))
            step = least[to]
            row_price[partner[done]] += step
            column_price[done] -= step
            least[~done] -= step
            at = to
        while at:
            partner[at] = partner[came[at]]
            at = int(came[at])
    chosen = np.zeros(rows, dtype=np.intp)
    for at in range(1, columns + 1):
        if partner[at]:
            chosen[partner[at] - 1] = at - 1
    return chosen


class Ends(NamedTuple):
    """Ends of stems (n, 3) and the kind of each (n,)."""

    at_cm: Array
    kind: tuple[str, ...]

    def of(self, kind: str) -> Index:
        """Which ends are of a kind."""
        return np.flatnonzero(np.array(self.kind) == kind)


def matched_distance(one: Ends, other: Ends) -> float:
    """The mean way between paired ends, in cm; 0 where nothing can be paired."""
    ways: list[float] = []
    for kind in dict.fromkeys(one.kind):
        few, many = sorted((e.at_cm[e.of(kind)] for e in (one, other)), key=len)
        if len(few):
            cost = np.linalg.norm(few[:, None] - many[None], axis=-1)
            ways += list(cost[np.arange(len(few)), partners(cost)])
    return float(np.mean(ways)) if ways else 0.0
