"""The bare part of the stems over the water, which the trade keeps together and clear.

Source: Averill (1913), ch. 12: about three inches in spring, two in summer, four in autumn. What
it says for winter could not be read.
"""

from __future__ import annotations

BARE_STEM_CM = {"spring": 7.6, "summer": 5.1, "autumn": 10.2}  # [averill1913] ch. 12


def bare_stem_cm(season: str) -> float | None:
    """Centimetres of bare stem over the water in a tall classical form; None where not known."""
    return BARE_STEM_CM.get(season)
