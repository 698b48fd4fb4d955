"""The page of the season: a day, a place, notes, temperatures; nothing typed is lost."""

from __future__ import annotations

import datetime as dt
import html

import pytest
from starlette.testclient import TestClient
from web.asked import TODAY, faults, text, value

from nejime.basis.sayings import Words
from nejime.desk import carry, season, season_words, seen, where
from nejime.desk.shelf import Shelf, open_shelf

CHICAGO = {"city": "Chicago, US", "climate": "city", "name": "The library"}


def page(client: TestClient, on: str = "2027-03-20") -> str:
    answer = client.get("/season", params={"on": on})
    assert answer.status_code == 200
    return answer.text


@pytest.mark.source("naoj-reki", "啓蟄 2027 is 6 March in Japan")
def test_a_day_has_its_names_and_says_in_whose_time(client: TestClient) -> None:
    told = text(page(client))
    assert "啓蟄" in told
    assert "Keichitsu" in told
    assert "6 March 2027" in told
    assert "Asia/Tokyo" in told
    assert "where you are is not known yet" in told


def test_a_city_is_enough_and_its_distance_is_shown(client: TestClient, shelf: Shelf) -> None:
    client.post("/season/place", data=CHICAGO)
    assert "For The library, by the usual year there." in text(page(client))
    near = {"lat": "41,2 N", "lon": "-88", "climate": "city", "base": "1"}
    client.post("/season/place", data=near)
    told = text(page(client))
    assert "by the usual year of Chicago, US" in told
    assert "km away" in told
    form = client.get("/season/place").text
    assert "Chicago, US" in text(form)
    assert value(form, "lat") == "41.2"
    assert where.place(shelf).near is not None


def test_a_place_far_from_every_city_is_told_to_go_without(client: TestClient) -> None:
    told = {"lat": "-50", "lon": "-120", "climate": "city", "name": "a ship"}
    answer = client.post("/season/place", data=told)
    assert answer.status_code == 422
    assert "km away" in faults(answer.text)["climate"]
    assert value(answer.text, "name") == "a ship"
    client.post("/season/place", data={**told, "climate": "none"})
    assert "without a climate" in text(page(client))


def test_means_of_her_own_are_taken_in_fahrenheit(client: TestClient, shelf: Shelf) -> None:
    means = {f"mean-{n}": f"{40 + n}" for n in range(1, 13)}
    told = {"lat": "40", "lon": "-80", "climate": "own", "unit": "c", **means}
    answer = client.post("/season/place", data=told)
    assert "Fahrenheit" in html.unescape(answer.text)
    assert value(answer.text, "mean-3") == "43"
    client.post("/season/place", data={**told, "unit": "f"})
    climate = where.place(shelf).site.climate
    assert climate is not None
    assert climate.means_c[0] == pytest.approx((41 - 32) / 1.8, abs=0.01)


@pytest.mark.source("naoj-reki", "20 September 2027 lies in 白露; half a year on is 啓蟄")
def test_the_south_has_the_days_name_and_its_own_season(client: TestClient) -> None:
    client.post("/season/place", data={"city": "Wellington, NZ"})
    told = text(page(client, "2027-09-20"))
    assert "白露" in told
    assert "Where you are the season is half a year away: 啓蟄" in told


def test_a_note_is_one_tap_and_the_page_says_so(client: TestClient, shelf: Shelf) -> None:
    client.post("/season/place", data=CHICAGO)
    told = {"plant": "Forsythia", "on": "2026-04-12", "back": "2027-04-10"}
    after = client.post("/season/seen", data=told)
    assert "Noted." in text(after.text)
    assert "Because of your note of another year." in text(after.text)
    assert seen.seen(shelf) == {"forsythia": (dt.date(2026, 4, 12),)}
    client.post("/season/seen", data=told)
    assert len(shelf.all("seen")) == 1
    (kept,) = shelf.all("seen")
    client.post(f"/season/seen/{kept.id}/back", data={"back": "2027-04-10"})
    assert not shelf.all("seen")
    assert "Because of your note" not in text(page(client, "2027-04-10"))


def test_a_note_changes_next_year_to_its_day(client: TestClient, shelf: Shelf) -> None:
    client.post("/season/place", data=CHICAGO)
    before = season.here(shelf, dt.date(2027, 4, 10)).blooms["forsythia"]
    client.post("/season/seen", data={"plant": "forsythia", "on": "2026-04-03"})
    after = season.here(shelf, dt.date(2027, 4, 10)).blooms["forsythia"]
    assert before is not None
    assert after is not None
    assert after.begins == dt.date(2027, 4, 3)
    assert before.begins != after.begins


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"plant": "", "on": "2026-04-12"}, "plant"),
        ({"plant": "unheard-of", "on": "2026-04-12"}, "plant"),
        ({"plant": "s", "on": "2026-04-12"}, "plant"),
        ({"plant": "spray", "on": "2026-04-12"}, "plant"),
        ({"plant": "%s", "on": "2026-04-12"}, "plant"),
        ({"plant": "forsythia", "on": "2028-01-01"}, "seen-on"),
        ({"plant": "forsythia", "on": "soon"}, "seen-on"),
    ],
)
def test_a_note_that_cannot_be_is_told_and_stays_typed(client, told, field) -> None:
    answer = client.post("/season/seen", data={**told, "back": "2027-04-10"})
    assert answer.status_code == 422
    assert set(faults(answer.text)) == {field}
    assert value(answer.text, "plant") == told["plant"]
    assert f'value="{told["on"]}"' in answer.text
    assert "10 April 2027" in text(answer.text)  # still the day that was shown


def test_a_word_for_several_plants_is_asked_back(client: TestClient, shelf: Shelf) -> None:
    answer = client.post("/season/seen", data={"plant": "spray", "on": "2026-06-12"})
    said = faults(answer.text)["plant"]
    assert "Spray rose" in said
    assert "Spray carnation" in said
    assert not shelf.all("seen")
    client.post("/season/seen", data={"plant": "Spray rose", "on": "2026-06-12"})
    assert set(seen.seen(shelf)) == {"spray-rose"}


@pytest.mark.parametrize("on", ["1950-12-31", "2051-01-01", "2027-02-30", "yesterday"])
def test_a_day_that_cannot_be_shown_is_told(client: TestClient, on: str) -> None:
    answer = client.get("/season", params={"on": on})
    assert answer.status_code == 422
    assert "on" in faults(answer.text)


@pytest.mark.parametrize("on", ["1951-01-01", "2028-02-29", "2050-12-31"])
def test_the_ends_of_the_calendar_and_leap_days_are_shown(client: TestClient, on: str) -> None:
    client.post("/season/place", data=CHICAGO)
    assert "In gardens" in text(page(client, on))


@pytest.mark.parametrize("city", ["Reykjavík, IS", "Singapore, SG", "Quito, EC"])
def test_cold_and_tropical_places_have_a_page_too(client: TestClient, city: str) -> None:
    client.post("/season/place", data={"city": city})
    assert "In gardens" in text(page(client))


def test_temperatures_are_read_and_every_guess_is_said(client: TestClient, shelf: Shelf) -> None:
    client.post("/season/place", data=CHICAGO)
    days = [dt.date(2027, 2, 15) + dt.timedelta(days=n) for n in range(40)]
    rows = "\n".join(f"{day.isoformat()},{62 if day.month == 3 else 55}" for day in days)
    file = ("warm.csv", f"date,mean\n{rows}\n".encode(), "text/csv")
    answer = client.post("/season/place/temperatures", files={"file": file}, data={"unit": ""})
    told = text(answer.text)
    assert "40 days were read" in told
    assert "degrees Fahrenheit: that fits the usual year" in told
    found = season.here(shelf, dt.date(2027, 4, 10)).blooms["forsythia"]
    assert found is not None
    assert found.timing == "early"
    assert "early this year" in text(page(client, "2027-04-01"))
    client.post("/season/place/forget/temperatures")
    assert not where.measured(shelf)


@pytest.mark.source("hand", "1926 to 2025 are 36,525 days; 45 times 366 = 16,470 stay: 20,055")
def test_of_a_hundred_years_what_is_not_kept_is_said(client: TestClient, shelf: Shelf) -> None:
    first = dt.date(1926, 1, 1)
    days = [first + dt.timedelta(days=n) for n in range(36_525)]
    rows = "\n".join(f"{day.isoformat()},{10 - day.month % 7}" for day in days)
    file = ("long.csv", f"date,mean\n{rows}\n".encode(), "text/csv")
    answer = client.post("/season/place/temperatures", files={"file": file}, data={"unit": "c"})
    told = text(answer.text)
    assert "36525 days were read" in told
    assert "20055 older days are not kept" in told
    assert len(where.measured(shelf)) == 16_470


def test_a_wrong_year_takes_nothing_away(client: TestClient, shelf: Shelf) -> None:
    for rows, status in (("2026-02-01,3", 200), ("9026-02-02,4", 422)):
        file = ("a.csv", f"date,mean\n{rows}\n".encode(), "text/csv")
        answer = client.post("/season/place/temperatures", files={"file": file})
        assert answer.status_code == status
    assert "9026-02-02" in text(answer.text)
    assert set(where.measured(shelf)) == {dt.date(2026, 2, 1)}


def test_a_file_that_is_none_is_told(client: TestClient) -> None:
    answer = client.post("/season/place/temperatures", data={"unit": ""})
    assert "file" in faults(answer.text)
    bad = ("x.csv", b"nothing here", "text/csv")
    answer = client.post("/season/place/temperatures", files={"file": bad})
    assert answer.status_code == 422
    assert "has a date with a title above it" in text(answer.text)


def test_a_place_changed_elsewhere_is_not_lost(client: TestClient) -> None:
    client.post("/season/place", data=CHICAGO)
    other = {"city": "Boston, US", "climate": "city", "base": "1"}
    client.post("/season/place", data=other)
    mine = client.post("/season/place", data={"city": "London, GB", "base": "1"})
    assert mine.status_code == 409
    assert value(mine.text, "city") == "London, GB"


def test_place_notes_and_temperatures_are_carried_along(client, shelf, tmp_path) -> None:
    client.post("/season/place", data=CHICAGO)
    client.post("/season/seen", data={"plant": "forsythia", "on": "2026-04-12"})
    file = ("a.csv", b"date,mean\n2026-02-01,3\n2026-02-02,4\n", "text/csv")
    client.post("/season/place/temperatures", files={"file": file})
    saved = carry.everything(shelf)
    with open_shelf(tmp_path / "other") as other:
        assert carry.bring_in(other, saved).added == 3
        assert where.place(other).name == "The library"
        assert seen.seen(other) == seen.seen(shelf)
        assert where.measured(other) == where.measured(shelf)
        assert carry.bring_in(other, saved).added == 0


def test_today_is_the_day_without_any(client: TestClient) -> None:
    assert f'type="date" min="1951-01-01" max="2050-12-31" value="{TODAY}"' in (
        client.get("/season").text
    )


def test_another_city_brings_its_own_name(client: TestClient, shelf: Shelf) -> None:
    client.post("/season/place", data={"city": "Chicago, US", "height": "180 m"})
    before = {"name": "Chicago, US", "height": "180 m", "lat": "41.88", "lon": "-87.63"}
    client.post("/season/place", data={**before, "city": "Wellington, NZ", "base": "1"})
    there = where.place(shelf)
    assert there.name == "Wellington, NZ"
    assert there.site.height_m is None
    named = {**before, "name": "Our hill", "height": "200 m", "city": "Kyoto", "base": "2"}
    client.post("/season/place", data=named)
    assert where.place(shelf).name == "Our hill"
    assert where.place(shelf).site.height_m == 200


def test_a_fault_in_a_file_names_its_line(client: TestClient) -> None:
    data = b"date,mean\n2026-02-01,3.4\n2026-02-30,4.1\n"
    answer = client.post("/season/place/temperatures", files={"file": ("d.csv", data)})
    assert answer.status_code == 422
    assert "Line 3: “2026-02-30” is not a date." in text(answer.text)


@pytest.mark.source("practice", "bare dogwood and willow have no flowers in winter")
def test_bare_wood_is_at_its_best_and_not_open(shelf: Shelf) -> None:
    where.keep(shelf, CHICAGO)
    found = season.here(shelf, dt.date(2027, 1, 10))
    told = season_words.season_words(found, Words())
    stages = {each.id: each.stage for _, plants in told.garden for each in plants}
    assert stages["red-stem-dogwood"] == "at its best"
    assert stages["witch-hazel"] in ("open", "colour showing", "in bud")


@pytest.mark.source("memory", "no garden grows at the South Pole, nor at the North Pole")
@pytest.mark.parametrize("lat", [-90.0, 90.0])
def test_the_poles_have_no_gardens(lat: float) -> None:
    pole = where.place_of({"lat": lat, "lon": 0.0, "climate": "none"})
    for month in range(1, 13):
        assert season.in_gardens(season.season_on(dt.date(2027, month, 10), pole)) == ()


def test_a_number_of_many_digits_breaks_nothing(client: TestClient) -> None:
    client.post("/season/place", data=CHICAGO)
    many = "9" * 5000
    answer = client.post("/season/place", data={"lat": "x", "climate": "city", "base": many})
    assert value(answer.text, "lat") == "x"
    assert client.get("/season/talk", params={"of": many, "on": "2027-03-20"}).status_code == 200
    assert client.post("/season/seen/99999999999999999999/back").status_code == 404


@pytest.mark.source("practice", "spring in Chicago is autumn in Wellington")
def test_what_was_seen_and_measured_elsewhere_does_not_count_here(
    client: TestClient, shelf: Shelf
) -> None:
    where.keep(shelf, CHICAGO)
    client.post("/season/seen", data={"plant": "forsythia", "on": "2026-04-12"})
    days = b"date,mean\n2026-02-01,-3.4\n2026-02-02,-4.1\n"
    client.post("/season/place/temperatures", files={"file": ("d.csv", days)})
    where.keep(shelf, {"city": "Wellington, NZ"})
    assert not seen.seen(shelf)
    assert not where.measured(shelf)
    assert "Forsythia: Sunday, 12 April 2026, at another place" in text(page(client))
    client.post("/season/seen", data={"plant": "forsythia", "on": "2026-04-12"})
    assert len(shelf.all("seen")) == 2
    where.keep(shelf, {"city": "Chicago, US"})
    assert seen.seen(shelf) == {"forsythia": (dt.date(2026, 4, 12),)}
    assert len(where.measured(shelf)) == 2
