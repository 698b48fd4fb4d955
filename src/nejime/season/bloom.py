"""When a plant is in bloom at a place, how sure that is, and from what it is known.

Model: several answers may be had for one plant; the best evidence speaks, the others are kept. In
the order of trust: the teacher's own notes, a dated bloom elsewhere found again by warmth, the same
date moved by Hopkins' law, published degree days, short days, and the months of the plant table.
All sums begin anew each year, half a year later in the south.
Limits: without a cold winter and near the equator nothing of this holds, and confidence is low.
Source: of each kind of evidence in its own module; the guide says what was tried against records.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from nejime.plants.table import Plant
from nejime.season.answer import Bloom, Confidence, Measured, Site, Stage
from nejime.season.elsewhere import by_anchors, by_sums
from nejime.season.months import by_day_length, by_months, open_d
from nejime.season.notes import by_notes

__all__ = ["Bloom", "Site", "Stage", "bloom"]

LONG_D = 75  # [own] more than two months: berries in November say nothing of when they ripened
SURE_D = 7  # [own] a week to either side: a class can be planned on it


def bloom(
    plant: Plant,
    site: Site,
    day: dt.date,
    *,
    seen: Sequence[dt.date] = (),
    measured: Measured | None = None,
) -> Bloom | None:
    """The bloom nearest to a day; None where nothing is known of the plant there.

    `seen` are the days on which the teacher saw it open here, in any year; `measured` are daily
    mean temperatures here, of any years, in °C.
    """
    known = measured or {}
    notes = by_notes(plant.id, site, day, seen, known, open_d(plant, site))
    others = [] if site.barren else _without_notes(plant, site, day, known)
    if plant.kind != "branch":  # the blossom of a branch is watched for: its note is when it opens
        notes = [_in_long_season(note, others) for note in notes]
    found = [*notes, *others]
    if not found:
        return None
    best, *weaker = (replace(each, confidence=_confidence(each, site)) for each in found)
    return replace(best, others=tuple(weaker))


def _in_long_season(note: Bloom, others: Sequence[Bloom]) -> Bloom:
    """A note in a season of months: it says that the plant is there, not that it began."""
    for each in others:
        long = (each.ends - each.begins).days > LONG_D
        if each.evidence in ("window", "all-year") and long and not each.outside_d(note.begins):
            return replace(note, begins=each.begins, ends=each.ends, error_d=each.error_d)
    return note


def _without_notes(plant: Plant, site: Site, day: dt.date, known: Measured) -> list[Bloom]:
    """What is known from elsewhere, the most trusted first."""
    return [
        *by_anchors(plant.id, site, day, known),
        *by_day_length(plant.id, site, day),
        *_surest(by_sums(plant.id, site, day, known) + by_months(plant, site, day, known)),
    ]


def _surest(found: list[Bloom]) -> list[Bloom]:
    """The narrowest first: a published sum may say less than months do."""
    return sorted(found, key=lambda each: each.error_d)


def _confidence(of: Bloom, site: Site) -> Confidence:
    if of.evidence == "seen":
        return "good"
    if of.evidence == "all-year":
        return "fair"
    if of.evidence == "own-record":
        sure = of.spread_d <= SURE_D and not site.mild
        return "good" if sure else "fair"
    doubtful = of.confidence == "low" or of.evidence not in ("anchor", "hopkins")
    return "low" if site.mild or doubtful else "fair"
