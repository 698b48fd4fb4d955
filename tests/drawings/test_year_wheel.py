"""The year here as a wheel: places by hand, tracks without overlap, nothing told by colour."""

from __future__ import annotations

import datetime as dt
import math
import re
import xml.etree.ElementTree as ET
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.drawings.lettering import MM_PER_PT
from nejime.drawings.year_wheel import (
    MOST,
    ROLES,
    Arc,
    Laid,
    Tick,
    angle_deg,
    laid_out,
    year_wheel,
)

WORDS = Words()
HOLE_MM = 11.0
PT = 9.0
SVG = "{http://www.w3.org/2000/svg}"


def arc(name: str, role: str, begins: int, length: int, spread: float = 5.0) -> Arc:
    first = dt.date(2027, 1, 1) + dt.timedelta(days=begins)
    return Arc(name, role, first, first + dt.timedelta(days=length), spread)  # type: ignore[arg-type]


arcs = st.lists(
    st.builds(
        arc,
        st.text("abcdefgilmnop ", min_size=3, max_size=17),
        st.sampled_from(ROLES),
        st.integers(-60, 360),
        st.integers(1, 340),
        st.floats(0, 15),
    ),
    max_size=MOST,
)


@pytest.mark.source(
    "hand",
    "the share of the year's days, times 360: 1 January 0; 2 July 2027 is 182 days on: 182/365 x "
    "360 = 179.507; 1 July 2028 is 182 days on in 366: 179.016; 31 December 2027: 364/365 x 360",
)
@pytest.mark.parametrize(
    ("day", "angle"),
    [
        (dt.date(2027, 1, 1), 0.0),
        (dt.date(2027, 7, 2), 179.507),
        (dt.date(2028, 7, 1), 179.016),
        (dt.date(2027, 12, 31), 359.014),
    ],
)
def test_a_day_stands_at_its_share_of_the_year(day, angle):
    assert angle_deg(day, day.year) == pytest.approx(angle, abs=0.001)


@pytest.mark.source("hand", "days outside the year go on around: 10 December is 22 days before it")
def test_days_of_the_years_before_and_after_go_on_around():
    assert angle_deg(dt.date(2026, 12, 10), 2027) == pytest.approx(-22 / 365 * 360)
    assert angle_deg(dt.date(2028, 1, 1), 2027) == pytest.approx(360)


def lettered(svg: str) -> dict[str, tuple[float, float, float]]:
    """Where the middle letter of each bent line of lettering stands, and how it is turned."""
    found = {}
    for text in ET.fromstring(svg).iter(f"{SVG}text"):
        if "rotate" in text.attrib:
            places = [[float(x) for x in text.attrib[k].split()] for k in ("x", "y", "rotate")]
            at = len(places[0]) // 2
            found[text.text or ""] = (places[0][at], places[1][at], places[2][at])
    return found


def clockwise_deg(x: float, y: float, middle: float) -> float:
    return math.degrees(math.atan2(x - middle, middle - y)) % 360


def test_months_go_clockwise_from_the_top_and_are_never_upside_down():
    svg = year_wheel(2027, [], [], WORDS)
    middle = float(ET.fromstring(svg).attrib["viewBox"].split()[2]) / 2
    places = lettered(svg)
    months = [WORDS.say(s) for s in _months()]
    angles = [clockwise_deg(*places[name][:2], middle) for name in months]
    assert angles == sorted(angles)
    assert angles[0] < 30 < angles[1] < 60
    assert all(-95 < turned < 95 for _, _, turned in places.values())


def _months():
    from nejime.basis.sayings import Saying

    return [Saying(f"month.{month}") for month in range(1, 13)]


@pytest.mark.source("hand", "4 February 2027 is 34 days on: 34/365 x 360 = 33.5")
def test_a_term_stands_at_its_day():
    svg = year_wheel(2027, [], [Tick(dt.date(2027, 2, 4), "立春")], WORDS)
    middle = float(ET.fromstring(svg).attrib["viewBox"].split()[2]) / 2
    x, y, _ = lettered(svg)["立春"]
    assert clockwise_deg(x, y, middle) == pytest.approx(33.5, abs=1.5)


@pytest.mark.source("hand", "13 March 2027 is 71 days on: 71/365 x 360 = 70.03")
def test_the_day_is_a_line_from_the_middle_with_its_date():
    svg = year_wheel(2027, [], [], WORDS, day=dt.date(2027, 3, 13))
    assert ">13 March<" in svg
    assert ">2027<" in svg
    middle = float(ET.fromstring(svg).attrib["viewBox"].split()[2]) / 2
    lines = [
        path.attrib["d"]
        for path in ET.fromstring(svg).iter(f"{SVG}path")
        if float(path.attrib.get("stroke-width", 0)) > 0.4
    ]
    (line,) = lines
    x, y = (float(n) for n in re.match(r"M([\d.]+) ([\d.]+)", line).groups())  # type: ignore[union-attr]
    assert clockwise_deg(x, y, middle) == pytest.approx(70.03, abs=0.1)
    assert ">13 March<" not in year_wheel(2027, [], [], WORDS)


def spans(laid: Laid) -> list[tuple[float, float]]:
    """The stretches of its circle that an arc and its name cover, within 0 to 360."""
    start = laid.start_deg % 360
    end = start + laid.whole_deg
    return [(start, min(end, 360.0)), *([(0.0, end - 360.0)] if end > 360 else [])]


def overlap(one: Laid, other: Laid) -> bool:
    return any(a < d and c < b for a, b in spans(one) for c, d in spans(other))


@given(arcs, st.booleans())
def test_no_arc_and_no_name_runs_into_another(told, numbered):
    laid, wide = laid_out(2027, told, 100.0, HOLE_MM, numbered=numbered)
    for one, other in combinations(laid, 2):
        apart = abs(one.radius_mm - other.radius_mm)
        capital = 0.73 * PT * MM_PER_PT
        assert apart >= capital or not overlap(one, other)
    for each in laid:
        assert HOLE_MM < each.radius_mm < wide / 2
        assert each.whole_deg <= 360


@given(arcs)
def test_every_arc_is_drawn_or_named_below(told):
    svg = year_wheel(2027, told, [], WORDS)
    laid, _ = laid_out(2027, told, 100.0, HOLE_MM)
    below = [each for each in told if (each.ends - each.begins).days + 1 > 300]
    assert len(laid) + len(below) == len(told)
    assert ("Nearly all the year" in svg) == bool(below)


@given(arcs)
def test_roles_lie_apart_those_for_the_line_outermost(told):
    laid, _ = laid_out(2027, told, 100.0, HOLE_MM)
    radii = {role: [e.radius_mm for e in laid if e.arc.role == role] for role in ROLES}
    for outer, inner in combinations(ROLES, 2):
        if radii[outer] and radii[inner]:
            assert min(radii[outer]) > max(radii[inner])


@pytest.mark.source(
    "hand",
    "from 1 April (90 days on) for 20 days, give or take 5: 85/365 x 360 = 83.84 to begin, and"
    " 21 + 10 days are 30.58",
)
def test_an_arc_narrows_around_its_dates():
    (laid,), _ = laid_out(2027, [arc("plum", "line", 90, 20)], 100.0, HOLE_MM)
    assert laid.start_deg == pytest.approx(83.84, abs=0.01)
    assert laid.bar_deg == pytest.approx(30.58, abs=0.01)
    assert laid.fade_deg == pytest.approx(5 / 365 * 360)


def test_as_many_days_earlier_is_as_far_back():
    (one,), _ = laid_out(2027, [arc("plum", "line", 90, 20)], 100.0, HOLE_MM)
    (other,), _ = laid_out(2027, [arc("plum", "line", 80, 20)], 100.0, HOLE_MM)
    assert one.start_deg - other.start_deg == pytest.approx(10 / 365 * 360)
    assert one.bar_deg == other.bar_deg


def test_only_presentation_attributes_are_written_and_equal_input_gives_equal_bytes():
    told = [arc("Forsythia", "line", 70, 25), arc("Fatsia", "leaf", 0, 364)]
    svg = year_wheel(2027, told, [Tick(dt.date(2027, 2, 4), "立春")], WORDS, day=told[0].begins)
    assert "style=" not in svg
    assert svg == year_wheel(
        2027, told, [Tick(dt.date(2027, 2, 4), "立春")], WORDS, day=told[0].begins
    )
    ET.fromstring(svg)


def test_everything_is_told_to_those_who_cannot_see_it():
    told = [arc("Forsythia", "line", 70, 25), arc("Fatsia", "leaf", 0, 364)]
    (says,) = ET.fromstring(year_wheel(2027, told, [], WORDS)).iter(f"{SVG}desc")
    assert says.text is not None
    assert "Forsythia, for the line: from 12 March to 6 April, give or take 5 days." in says.text
    assert "Fatsia: nearly all the year." in says.text


@pytest.mark.parametrize("role", ROLES)
def test_each_role_has_a_tone_of_its_own_and_its_word(role):
    svg = year_wheel(2027, [arc("Plum", role, 40, 20)], [], WORDS)
    word = {"line": "for the line", "mass": "for fullness", "leaf": "leaves"}[role]
    assert f">{word}<" in svg
    shades = set(re.findall(r'(?:fill|stroke)="#(\w{6})"', svg))
    assert all(shade[:2] == shade[2:4] == shade[4:] for shade in shades)


def test_more_than_can_be_told_apart_is_refused():
    with pytest.raises(ValueError, match="no more than 24"):
        year_wheel(2027, [arc(f"Plum {n}", "line", n, 20) for n in range(25)], [], WORDS)
