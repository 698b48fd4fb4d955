"""Daily temperatures out of files as weather services write them."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.reading.temperatures import read_temperatures
from nejime.season.climate import cities

KYOTO = next(each for each in cities() if each.name == "Kyoto")
STATION = Path(__file__).parents[2] / "authorities" / "season" / "ghcnd_JA000047759_kyoto_daily.csv"
FIRST, SECOND = dt.date(2026, 2, 1), dt.date(2026, 2, 2)


def read(text: str, **more):
    return read_temperatures("days.csv", text.encode(), **more)


@pytest.mark.source("rfc4180", "comma, quoted titles; common practice for semicolons and tabs")
@pytest.mark.parametrize(
    "text",
    [
        "date,mean\n2026-02-01,3.4\n2026-02-02,4.1\n",
        "Datum;Tmittel\n01.02.2026;3,4\n02.02.2026;4,1\n",
        '# remark\n\n"Site","DATE","TAVG (°C)"\n"X","2026-02-01","3.4"\n"X","2026-02-02","4.1"\n',
        "date\ttmax\ttmin\n20260201\t6.8\t0.0\n20260202\t8.2\t0.0\n",
        "year,month,day,mean\n2026,2,1,3.4\n2026,2,2,4.1\n",
        "time,temperature_2m_mean (°C),wind\n2026-02-01T00:00,3.4,7\n2026-02-02T00:00,4.1,9\n",
        "date,precipitation,mean temp\n2026-02-01,9.9,3.4\n2026-02-02,0,4.1\n",
    ],
)
def test_every_usual_way_of_writing_is_read(text: str) -> None:
    found = read(text, climate=KYOTO)
    assert dict(found.days) == pytest.approx({FIRST: 3.4, SECOND: 4.1})
    assert found.unit == "c"


@pytest.mark.source("hand", "41 °F = 5 °C; 50 °F = 10 °C")
@pytest.mark.parametrize(
    ("text", "more", "how"),
    [
        ("date,mean (°F)\n2026-02-01,41\n2026-02-02,50\n", {}, "header"),
        ("date,mean\n2026-02-01,41\n2026-02-02,50\n", {"climate": KYOTO}, "climate"),
        ("date,mean\n2026-02-01,41\n2026-02-02,50\n", {"unit": "f"}, "told"),
    ],
)
def test_fahrenheit_is_seen_and_said(text: str, more, how: str) -> None:
    found = read(text, **more)
    assert dict(found.days) == pytest.approx({FIRST: 5.0, SECOND: 10.0})
    assert (found.unit, found.unit_from) == ("f", how)


@pytest.mark.source("hand", "tenths: 152 is 15.2")
def test_tenths_are_seen_by_the_numbers() -> None:
    found = read("date,mean\n2026-08-01,282\n2026-08-02,152\n")
    assert list(found.days.values()) == pytest.approx([28.2, 15.2])
    assert found.unit == "tenths"


@pytest.mark.source("hand", "between 0 and 8 over three missing days: 2, 4, 6")
def test_short_gaps_are_bridged_and_long_ones_told() -> None:
    found = read("date,mean\n2026-02-01,0\n2026-02-05,8\n2026-02-20,8\n")
    assert [found.days[FIRST + dt.timedelta(days=n)] for n in range(5)] == [0, 2, 4, 6, 8]
    assert found.filled == 3
    assert found.gaps == ((dt.date(2026, 2, 6), dt.date(2026, 2, 19)),)


@pytest.mark.source("practice", "-9999, NaN and empty cells mean: not measured")
def test_what_was_not_measured_is_no_number() -> None:
    rows = ["2026-02-01,3", "2026-02-02,-9999", "2026-02-03,", "2026-02-04,NaN", "2026-02-05,7"]
    found = read("date,mean\n" + "\n".join(rows) + "\n")
    assert found.filled == 3
    assert list(found.days.values()) == [3, 4, 5, 6, 7]


@pytest.mark.source("hand", "days pass faster than months; above 12 is a day")
@pytest.mark.parametrize(
    ("rows", "first"),
    [
        (("1/2/2026,3", "2/2/2026,4", "3/2/2026,4"), dt.date(2026, 2, 1)),
        (("2/1/2026,3", "2/2/2026,4", "2/3/2026,4"), dt.date(2026, 2, 1)),
        (("13/2/2026,3", "14/2/2026,4"), dt.date(2026, 2, 13)),
        (("2/13/2026,3", "2/14/2026,4"), dt.date(2026, 2, 13)),
    ],
)
def test_the_order_of_day_and_month_is_found(rows, first) -> None:
    assert read("date,mean\n" + "\n".join(rows) + "\n").first == first


@pytest.mark.source("ghcnd", "the whole file: 26,875 days with a mean or both ends, or bridged")
def test_eighty_years_of_a_station_are_read() -> None:
    found = read_temperatures("kyoto.csv", STATION.read_bytes())
    assert found.days[dt.date(1945, 10, 31)] == 15.2
    assert found.unit_from == "header"
    assert found.last.year >= 2025
    assert len(found.days) > 26_000


@pytest.mark.source("hand", "365 days of each of a hundred years and 25 leap days")
def test_a_hundred_years_are_read() -> None:
    day, rows = dt.date(1926, 1, 1), []
    while day < dt.date(2026, 1, 1):
        rows.append(f"{day.isoformat()},{10 - day.month % 7}")
        day += dt.timedelta(days=1)
    found = read("date,mean\n" + "\n".join(rows))
    assert len(found.days) == 100 * 365 + 25
    assert found.filled == 0


@pytest.mark.source(
    "own", "what cannot be read is told with what to do, and where it is known, the line"
)
@pytest.mark.parametrize(
    ("text", "key", "line"),
    [
        ("hello", "reading.temperatures.no-dates", None),
        ("a,b\n1,2\n", "reading.temperatures.no-dates", None),
        ("date,rain\n2026-01-01,3\n", "reading.temperatures.no-column", None),
        ("date,mean\n2026-01-01,3\nlater,4\n", "reading.temperatures.no-date", 3),
        ("date,mean\n2026-01-01,3\n2026-13-01,4\n", "reading.temperatures.no-date", 3),
        ("date,mean\n2026-01-01,\n2026-01-02,x\n", "reading.temperatures.none", None),
        ("date,mean (°C)\n2026-01-01,68\n", "reading.temperatures.beyond", None),
        ("date,mean\n2026-01-01,3\n2061-12-31,4\n", "reading.temperatures.no-date", 3),
        ("year,month,day,mean\n2026,1,1,3\ninf,1,2,4\n", "reading.temperatures.no-date", 3),
        ("year,month,day,mean\n2026,1,1,3\n1e30,1,2,4\n", "reading.temperatures.no-date", 3),
        ("date,max,min\n2026-01-01,6,5\n2026-01-02,6,5,0,5\n", "reading.temperatures.too-wide", 3),
    ],
)
def test_what_is_wrong_is_said(text: str, key: str, line: int | None) -> None:
    with pytest.raises(InputError) as trouble:
        read(text)
    (fault,) = trouble.value.faults
    assert (fault.says.key, fault.line) == (key, line)
    assert fault.try_instead is not None
    assert Words().say(fault.says)
    assert Words().say(fault.try_instead)


CELL = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=12)
ROW = st.lists(
    st.one_of(CELL, st.dates().map(str), st.floats().map(str), st.integers().map(str)), max_size=5
)


@pytest.mark.source("own", "whatever stands there: days that are possible, or a fault in words")
@settings(max_examples=120)
@given(st.lists(ROW, max_size=8), st.sampled_from(",;\t"))
def test_no_file_breaks_the_reader(rows, mark) -> None:
    text = "\n".join([f"date{mark}mean", *(mark.join(row) for row in rows)])
    try:
        found = read(text)
    except InputError as trouble:
        for fault in trouble.faults:
            assert Words().say(fault.says)
        return
    assert found.days
    assert all(-75 <= mean <= 45 for mean in found.days.values())


@pytest.mark.source("own", "the date in three columns: days that are possible, or a fault in words")
@settings(max_examples=200)
@given(st.lists(ROW, max_size=8), st.sampled_from(",;\t"))
def test_no_date_in_three_columns_breaks_the_reader(rows, mark) -> None:
    text = "\n".join(
        [mark.join(("year", "month", "day", "mean")), *(mark.join(row) for row in rows)]
    )
    try:
        found = read(text)
    except InputError as trouble:
        said = [Words().say(fault.says) for fault in trouble.faults]
    else:
        said = [f"{mean}" for mean in found.days.values()]
    assert all(said)
    assert said


@pytest.mark.source("own", "a line that ends with a comma has nothing more to say")
def test_an_empty_last_column_is_no_harm() -> None:
    assert len(read("date,mean\n2026-02-01,3.4,\n2026-02-02,4.1,\n").days) == 2


@pytest.mark.source("own", "bytes of every kind: days, or a fault in words")
@settings(max_examples=200)
@given(st.binary(max_size=200))
def test_no_bytes_break_the_reader(data) -> None:
    with pytest.raises(InputError):
        read_temperatures("x.csv", b"\xff" + data)


@pytest.mark.source("hand", "2026 has no 30 February; 2926 is a slip of the finger; 26 is no year")
@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("date,mean\n02/01/2026,3\n02/30/2026,4\n", "02/30/2026"),
        ("date,mean\n2026-02-01,3\n2926-02-02,4\n", "2926-02-02"),
        ("year,month,day,mean\n2026,2,1,3\n26,2,2,4\n", "26-2-2"),
        ("year,month,day,mean\n2026,2,1,3\ninf,2,2,4\n", "inf-2-2"),
    ],
)
def test_a_slip_in_a_date_is_told_with_its_line_as_it_was_typed(text: str, typed: str) -> None:
    with pytest.raises(InputError) as trouble:
        read(text)
    (fault,) = trouble.value.faults
    assert fault.line == 3
    assert fault.says.quantities["typed"] == typed


@pytest.mark.source("hand", "the last hour of a day is not the day's mean")
def test_a_file_of_hours_is_refused_and_one_date_twice_is_not() -> None:
    hours = "".join(f"2026-02-0{day}T{hour:02}:00,{hour}\n" for day in (1, 2) for hour in range(24))
    with pytest.raises(InputError) as trouble:
        read(f"time,temperature_2m (°C)\n{hours}")
    assert trouble.value.faults[0].says.key == "reading.temperatures.hourly"
    twice = read("date,mean (°C)\n2026-02-01,3\n2026-02-02,4\n2026-02-02,5\n")
    assert twice.days == {FIRST: 3.0, SECOND: 5.0}
    assert twice.doubled == 1
