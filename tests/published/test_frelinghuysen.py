"""Days to bloom of cut branches; the dates of the columns are inferred, as every row says."""

import datetime as dt

import pytest

from nejime.keeping.forcing import rows, share, table_days
from nejime.plants.table import plant

CUTS = (dt.date(2027, 1, 15), dt.date(2027, 2, 15), dt.date(2027, 3, 15))


@pytest.mark.source("frelinghuysen", "days to bloom, three columns; the last two where only two")
@pytest.mark.parametrize(
    ("name", "days"),
    [
        ("flowering-quince", (25, 20, 10)),
        ("cornelian-cherry", (20, 10, 5)),
        ("winter-hazel", (20, 10, 5)),
        ("forsythia", (20, 10, 5)),
        ("pieris", (20, 14, 7)),
        ("cherry", (25, 18, 10)),
        ("birch", (20, 15, 5)),
        ("maple", (None, 20, 10)),
        ("magnolia", (None, 15, 7)),
        ("crab-apple", (None, 30, 20)),
    ],
)
def test_the_table_is_as_printed(name: str, days: tuple[int | None, ...]) -> None:
    assert tuple(table_days(plant(name), cut) for cut in CUTS) == days
    south = [
        table_days(plant(name), cut.replace(month=cut.month + 6), southern=True) for cut in CUTS
    ]
    assert tuple(south) == days


@pytest.mark.source("frelinghuysen", "the columns' dates could not be read")
def test_every_row_says_that_its_date_is_inferred() -> None:
    for each in (row for found in rows().values() for row in found):
        assert each.grade == "derived"
        assert "inferred" in each.place


@pytest.mark.source("frelinghuysen", "usual bloom outdoors: 20, 20 and 5 to 15 April")
@pytest.mark.source(
    "hand",
    "to 20 April 95, 64 and 36 days: quince 25/95 = 0.263, 20/64 = 0.3125; cherry 25/95 = 0.263,"
    " 18/64 = 0.281. To 10 April 85, 54, 26: forsythia 10/54 = 0.185, 20/85 = 0.235",
)
@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("flowering-quince", 0.263, 0.3125),
        ("cherry", 0.263, 0.281),
        ("forsythia", 0.185, 0.235),
    ],
)
def test_days_are_a_share_of_those_until_bloom_outdoors(name: str, low: float, high: float) -> None:
    known = share(plant(name))
    assert known is not None
    assert (known[0], known[2]) == pytest.approx((low, high), abs=0.0005)
    assert known[0] <= known[1] <= known[2]


@pytest.mark.source("hand", "half way from 15 February (28 days to 15 March) 10 and 5 make 7.5")
def test_between_two_columns() -> None:
    assert table_days(plant("forsythia"), dt.date(2027, 3, 1)) == 7.5
    assert table_days(plant("forsythia"), dt.date(2027, 3, 20)) is None
    assert table_days(plant("tulip"), dt.date(2027, 3, 1)) is None
