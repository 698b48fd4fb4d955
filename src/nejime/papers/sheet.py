"""A paper before it is printed: what it says, in words and numbers, and its drawings.

Model: a `Sheet` names its template and holds everything that the template shows, already in the
reader's language and units; a template has no words of its own and does no arithmetic but layout.
A `Stock` is what all sheets of one printing have in common.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from nejime.lesson.lesson import Paper

NORMAL_PT = 12  # [practice] the least that guidance on printed matter calls normal
LARGE_PT = 18  # [practice] the least that is called large print
SIZE_MM: Mapping[Paper, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN_MM = 18.0  # [own] at the left and at the right


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing on a sheet: SVG text, what it shows for somebody who cannot see it, its size."""

    svg: str
    alt: str
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """One paper. `name` is its file name without ending; `rule` is stamped in the footer."""

    name: str
    template: str
    title: str
    data: Mapping[str, Any]
    drawings: Mapping[str, Drawing] = field(default_factory=dict)
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Stock:
    """What a printing is done on and stamped with. `date` is the class's, never today's."""

    paper: Paper
    date: dt.date
    large: bool = False
    language: str = "en"
    version: str = ""
    seed: int | None = None
    author: str = ""

    @property
    def text_pt(self) -> int:
        """The size of running text, and of the smallest."""
        return LARGE_PT if self.large else NORMAL_PT
