"""Narcissus beside other flowers."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from nejime.basis.sayings import Words
from nejime.keeping.mixing import mixing, stood_alone_min
from nejime.keeping.preparing import Lot, preparing
from nejime.plants.table import plant

WORDS = Words()
TEN = dt.datetime(2026, 3, 14, 10, tzinfo=ZoneInfo("America/New_York"))
BOTH = [plant("trumpet-daffodil"), plant("tulip")]
DAY_MIN = 24 * 60


@pytest.mark.source("doorn1998", "tulip leaves yellow and roses drink less beside one daffodil")
@pytest.mark.source("practice", "24 h where it is mixed with tulips")
@pytest.mark.parametrize(
    ("stood_min", "warned"), [(0, True), (DAY_MIN - 1, True), (DAY_MIN, False), (3000, False)]
)
@pytest.mark.parametrize("other", ["tulip", "rose"])
def test_narcissus_that_has_not_stood_alone_is_warned_of(stood_min, warned, other) -> None:
    found = mixing([BOTH[0], plant(other)], {"trumpet-daffodil": stood_min})
    assert bool(found) is warned
    if warned:
        said = WORDS.say(found[0])
        assert "24 hours" in said
        assert plant(other).english in said


@pytest.mark.source("doorn2004", "iris lasts longer beside a daffodil")
def test_iris_and_branches_take_no_harm() -> None:
    assert mixing([BOTH[0], plant("dutch-iris"), plant("forsythia")], {}) == ()
    assert mixing([plant("tulip"), plant("rose")], {}) == ()


@pytest.mark.source("hand", "until 8:00 on the 14th: 32 h from the 13th at 0:00, 8 h from the 14th")
def test_what_can_still_be_done_counts() -> None:
    tasks = preparing([Lot(each, 10) for each in BOTH], TEN)
    for day, hours in ((13, 32), (14, 8)):
        stood = stood_alone_min(tasks, dt.datetime(2026, 3, day, tzinfo=TEN.tzinfo))
        assert stood["trumpet-daffodil"] == hours * 60
    assert mixing(BOTH, stood_alone_min(tasks, TEN - dt.timedelta(days=3))) == ()
    assert len(mixing(BOTH, stood)) == 1
