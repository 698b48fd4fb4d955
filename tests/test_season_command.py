"""`nejime season`, as a teacher types it: the calendar as published, and every odd thing told."""

from __future__ import annotations

import csv
import datetime as dt
import json
import warnings
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from skyfield.api import Loader
from skyfield.framelib import ecliptic_frame
from skyfield_data import get_skyfield_data_path

from nejime.cli import main

FILE = Path(__file__).parents[1] / "authorities" / "season" / "sekki24_naoj_vs_computed.csv"
TERMS = [
    (int(row["solar_longitude"]), row["term"], row["naoj_jst_minute"])
    for row in csv.DictReader(FILE.read_text(encoding="utf-8").splitlines())
    if row["year"] == "2027"
]
STAGES = {"not yet", "bud", "colour showing", "open", "past"}
ZONES = (
    "Asia/Tokyo",
    "America/Chicago",
    "Asia/Kathmandu",
    "Etc/GMT+12",
    "Pacific/Kiritimati",
    "Antarctica/Troll",
)


def answer(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    assert main(["season", *words, "--json"]) == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    assert main(["season", *words, "--json"]) == 2
    (fault,) = json.loads(capsys.readouterr().out)["faults"]
    assert fault["says"]
    assert fault["try"]
    told: dict[str, Any] = fault
    return told


@pytest.mark.source("naoj-reki", "2027: the 24 solar terms to the minute, in Japan's time")
@pytest.mark.parametrize(("degrees", "term", "minute"), TERMS)
def test_the_day_of_a_term_tells_its_published_minute(capsys, degrees, term, minute) -> None:
    published = dt.datetime.fromisoformat(f"{minute}+09:00")
    sekki = answer(capsys, "--on", minute[:10])["sekki"]
    assert sekki["kanji"] == term
    assert sekki["number"] == (degrees - 315) % 360 // 15 + 1
    assert sekki["reading"]
    starts = dt.datetime.fromisoformat(sekki["starts"])
    assert starts.utcoffset() == dt.timedelta(hours=9)
    assert abs(starts - published) <= dt.timedelta(seconds=60)
    assert starts.date() == published.date()


@pytest.fixture(scope="module")
def sun_deg():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)  # a file of the data expires: not used here
        load = Loader(get_skyfield_data_path(), verbose=False)
    bodies, scale = load("de421.bsp"), load.timescale(builtin=True)

    def at(moment: dt.datetime) -> float:
        seen = bodies["earth"].at(scale.from_datetime(moment)).observe(bodies["sun"]).apparent()
        return float(seen.frame_latlon(ecliptic_frame)[1].degrees)

    yield at
    bodies.close()


@pytest.mark.source("de421", "where the Sun is when a civil day ends: in which term and ko")
@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.dates(dt.date(1951, 1, 1), dt.date(2050, 12, 31)), st.sampled_from(ZONES))
def test_in_every_zone_the_period_is_where_the_sun_is(capsys, sun_deg, day, zone) -> None:
    midnight = dt.datetime.combine(day + dt.timedelta(days=1), dt.time(), ZoneInfo(zone))
    passed = (sun_deg(midnight.astimezone(dt.UTC)) - 315) % 360
    told = answer(capsys, "--on", day.isoformat(), "--zone", zone)
    assert told["sekki"]["number"] == passed // 15 + 1
    assert told["ko"]["number"] == passed // 5 + 1
    for period in (told["sekki"], told["ko"]):
        starts = dt.datetime.fromisoformat(period["starts"])
        assert starts.utcoffset() == starts.astimezone(ZoneInfo(zone)).utcoffset()
        assert starts.date() <= day


@pytest.mark.source("ko1874", "26 March 2026 is in the eleventh of the seventy-two")
def test_a_micro_season_has_its_number_and_name(capsys) -> None:
    ko = answer(capsys, "--on", "2026-03-26")["ko"]
    assert (ko["number"], ko["kanji"]) == (11, "桜始開")


def test_what_is_proposed_has_something_to_fall_back_on(capsys) -> None:
    told = answer(capsys, "--on", "2027-04-10", "--place", "Kyoto")
    known = {each["id"] for each in told["plants"]}
    picks = [pick for proposal in told["proposals"] for pick in proposal]
    assert picks
    assert {pick["plant"] for pick in picks} <= known
    backs = [(pick["plant"], pick["fall_back"]) for pick in picks if pick["fall_back"]]
    assert backs
    assert all(back in known and back != plant for plant, back in backs)
    cherry = next(each["bloom"] for each in told["plants"] if each["id"] == "cherry")
    assert cherry["evidence"] == "anchor"
    assert "hopkins" in [other["evidence"] for other in cherry["others"]]


def test_every_plant_says_when_how_sure_and_from_what(capsys) -> None:
    plants = answer(capsys, "--on", "2027-04-10", "--place", "Chicago")["plants"]
    blooms = [each["bloom"] for each in plants if each["bloom"]]
    assert len(blooms) > len(plants) / 2
    for bloom in blooms:
        assert bloom["stage"] in STAGES
        assert bloom["begins"] <= bloom["ends"]
        assert bloom["spread_d"] >= 0
        assert bloom["evidence"]
        assert bloom["because"]
        assert bloom["source"]
        assert bloom["confidence"] in ("good", "fair", "low")


@pytest.mark.source("hand", "20 March 2027 in Sydney: half a turn from spring is autumn, 12 on")
def test_the_south_has_its_own_season_beside_japans(capsys) -> None:
    sekki = answer(capsys, "--on", "2027-03-21", "--lat", "-33,9", "--lon", "151.2")["sekki"]
    assert (sekki["number"], sekki["here"]["number"]) == (4, 16)


@pytest.mark.source("own", "poles, the date line and a leap day have an answer")
@pytest.mark.parametrize(
    "words",
    [
        ("--lat", "90", "--lon", "0"),
        ("--lat", "-90", "--lon", "-180"),
        ("--lat", "71.0", "--lon", "180"),
        ("--lat", "\N{MINUS SIGN}12,5", "--lon=-0"),
    ],
)
@pytest.mark.parametrize("on", ["2028-02-29", "1951-01-01", "2050-12-31"])
def test_the_ends_of_the_earth_have_an_answer(capsys, words, on) -> None:
    assert answer(capsys, "--on", on, *words)["plants"]


@pytest.mark.source("own", "what cannot be answered is told, and what to do instead")
@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("--on", "1950-12-31"), "on"),
        (("--on", "2051-01-01"), "on"),
        (("--lat", "91", "--lon", "0"), "lat"),
        (("--lat", "0", "--lon", "180.5"), "lon"),
        (("--lat", "nan", "--lon", "0"), "lat"),
        (("--lat", "0", "--lon", "inf"), "lon"),
        (("--lat", "41.9"), "--lon"),
        (("--lon", "41.9"), "--lat"),
        (("--place", "nowhere"), "--place"),
        (("--place", "Kyoto", "--lat", "10", "--lon", "10"), "--place"),
        (("--place", "Kyoto", "--lat", "10"), "--place"),
        (("--zone", "Mars/Base"), "--zone"),
        (("--zone", ""), "--zone"),
        (("--zone", "../etc/passwd"), "--zone"),
    ],
)
def test_what_cannot_be_answered_is_told(capsys, words, field) -> None:
    assert refused(capsys, *words)["field"] == field


@pytest.mark.source("own", "what is no number and no date is told by the command line itself")
@pytest.mark.parametrize(
    "words",
    [
        ("--on", "2027-02-29"),
        ("--on", "tomorrow"),
        ("--lat", "abc", "--lon", "1"),
        ("--lat", "--", "--lon", "1"),
        ("--lat=--", "--lon", "1"),
        ("--lat", "--json"),
        ("--on=--",),
    ],
)
def test_what_cannot_be_read_is_told(capsys, words) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["season", *words])
    assert ended.value.code == 2
    assert "--" in capsys.readouterr().err
