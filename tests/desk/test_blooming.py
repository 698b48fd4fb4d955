"""A class's garden branches know when they open here."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from nejime.desk import seen, where
from nejime.desk.blooming import with_blooms
from nejime.desk.shelf import open_shelf

CHICAGO = {"city": "Chicago, US"}


def tree(**branch: object) -> dict[str, object]:
    row = {"plant": "forsythia", "length": 90, **branch}
    return {"class": {"date": "2027-03-13"}, "garden": [row]}


@pytest.mark.source("hand", "a note of 12 April 2026 is 12 April 2027 in a usual year")
def test_her_own_note_is_when_it_opens(tmp_path: Path) -> None:
    with open_shelf(tmp_path) as shelf:
        where.keep(shelf, CHICAGO)
        seen.note(shelf, {"plant": "forsythia", "on": "2026-04-12"}, dt.date(2026, 5, 1))
        (row,) = with_blooms(shelf, tree())["garden"]
        assert row["blooms"] == "2027-04-12"


@pytest.mark.source("practice", "what she says herself is not reckoned again")
@pytest.mark.parametrize(
    "branch",
    [{"blooms": "2027-04-01"}, {"plant": "aspidistra"}, {"plant": "?"}, {"from": "left over"}],
)
def test_other_branches_stay_as_they_are(tmp_path: Path, branch: dict[str, object]) -> None:
    with open_shelf(tmp_path) as shelf:
        where.keep(shelf, CHICAGO)
        told = tree(**branch)
        assert with_blooms(shelf, told) == told


@pytest.mark.source("practice", "nothing is reckoned for a place that nobody told")
@pytest.mark.parametrize("odd", [{}, {"garden": 3}, {"garden": ["x"]}, {"class": 1, "garden": []}])
def test_without_a_place_or_a_date_nothing_is_said(tmp_path: Path, odd: dict[str, object]) -> None:
    with open_shelf(tmp_path) as shelf:
        assert with_blooms(shelf, tree()) == tree()
        where.keep(shelf, CHICAGO)
        assert with_blooms(shelf, odd) == odd
