"""How different two arrangements of ends are: the mean way from each to its partner, paired best.

Model: the cheapest pairing of the fewer with the more, by successive shortest augmenting paths.
Source: Kuhn (1955), as every text on the assignment problem has it.
"""

from __future__ import annotations

import numpy as np

from nejime.composing.lines import Array


def matched_cost(cost: Array) -> float:
    """The least sum of costs that pairs every row (n) with a column of its own (m ≥ n)."""
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
    chosen = [(partner[at] - 1, at - 1) for at in range(1, columns + 1) if partner[at]]
    return float(sum(cost[row, column] for row, column in chosen))


def matched_distance(one_cm: Array, other_cm: Array) -> float:
    """The mean distance of ends (n, 3) from (m, 3), each of the fewer paired with one, in cm."""
    few, many = sorted((one_cm, other_cm), key=len)
    if not len(few):
        return 0.0
    cost = np.linalg.norm(few[:, None] - many[None], axis=-1)
    return matched_cost(cost) / len(few)
