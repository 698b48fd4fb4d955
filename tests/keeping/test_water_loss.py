"""How fast water falls: published values, a library of its own, hand calculation, properties."""

import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.forms.vessel import vessel
from nejime.keeping import moist_air as air
from nejime.keeping.water_loss import (
    QUICK,
    ROOMS,
    SLOW,
    Reading,
    Standing,
    cm_a_day,
    days_until,
    drinks_ml_d,
    falls_cm_d,
    leafiness,
    level_after,
    lowest_cm,
    moved_air,
    open_surface,
    rescaled,
    under_a_rim,
)
from nejime.plants.table import plant, plants

USUAL = ROOMS["usual"]
TEMPERATURES = st.floats(2.0, 35.0)
HUMIDITIES = st.floats(0.15, 0.85)
DISH = vessel("rectangle", 30.0, 6.0, depth_cm=20.0)


def mm(kg_m2_h: float) -> float:
    return 10.0 * cm_a_day(kg_m2_h)


# Air


@pytest.mark.source("allen1998", "example 3: 1.705 kPa at 15 °C, 3.075 kPa at 24.5 °C")
@pytest.mark.parametrize(("warm_c", "kpa"), [(15.0, 1.705), (24.5, 3.075)])
def test_saturation_pressure_is_that_of_the_worked_example(warm_c, kpa) -> None:
    assert air.saturation_kpa(warm_c) == pytest.approx(kpa, abs=0.001)


@pytest.mark.source("memory", "FAO-56, table of saturation pressures: 2.338 and 3.168 kPa")
@pytest.mark.parametrize(("warm_c", "kpa"), [(20.0, 2.338), (25.0, 3.168)])
def test_saturation_pressure_is_that_of_the_table(warm_c, kpa) -> None:
    assert air.saturation_kpa(warm_c) == pytest.approx(kpa, abs=0.001)


@pytest.mark.source("psychrolib", "GetSatVapPres, which goes back to Hyland and Wexler")
@given(TEMPERATURES)
def test_two_formulas_for_saturation_pressure_agree_within_a_thousandth(warm_c) -> None:
    assert air.saturation_kpa(warm_c) * 1000 == pytest.approx(
        psychrolib.GetSatVapPres(warm_c), rel=0.001
    )


@pytest.mark.source("hand", "half of 2.338 kPa is missing at 20 °C and 50 %: 1.169 kPa")
def test_the_deficit_of_the_air() -> None:
    assert air.deficit_kpa(20.0, 0.5) == pytest.approx(1.169, abs=0.002)


@pytest.mark.source(
    "hand",
    "ideal gas: dry air (101325 - 1169 Pa) / (287.04 J/kgK x 293.15 K) = 1.190 kg/m³;"
    " vapour 1169 / (461.5 x 293.15) = 0.00864 kg/m³; 0.00864 / 1.190 = 0.00726",
)
def test_densities_of_moist_air() -> None:
    assert air.dry_air_kg_m3(20.0, 0.5) == pytest.approx(1.190, abs=0.002)
    assert air.vapour_kg_m3(20.0, 0.5) == pytest.approx(0.00864, abs=0.00002)
    assert air.kg_vapour_per_kg(20.0, 0.5) == pytest.approx(0.00726, abs=0.00003)


# The open surface


@pytest.mark.source("shah2014", "table for 50 % humidity: water °C, air °C, kg/m²h")
@pytest.mark.parametrize(
    ("water_c", "air_c", "kg"),
    [
        (28, 28, 0.1360),
        (28, 29, 0.1171),
        (28, 30, 0.0968),
        (30, 28, 0.1959),
        (29, 29, 0.1463),
        (30, 29, 0.1771),
    ],
)
def test_an_open_surface_gives_off_what_the_table_says(water_c, air_c, kg) -> None:
    assert open_surface(water_c, air_c, 0.5) == pytest.approx(kg, rel=0.01)


@pytest.mark.source("shah2014", "table for 50 % humidity: how much lighter the air is, kg/m³")
@pytest.mark.parametrize(
    ("water_c", "air_c", "lighter"), [(28, 28, 0.0219), (28, 29, 0.0168), (28, 30, 0.0116)]
)
def test_damp_air_is_lighter_by_its_dry_air(water_c, air_c, lighter) -> None:
    found = air.dry_air_kg_m3(air_c, 0.5) - air.dry_air_kg_m3(water_c, 1.0)
    assert found == pytest.approx(lighter, abs=0.0001)


@pytest.mark.source(
    "hand",
    "water 18 °C, air 22 °C, 40 %: 0.6108 exp(17.27·18/255.3) - 0.4·0.6108 exp(17.27·22/259.3)"
    " = 2.0639 - 1.0575 kPa = 1006.4 Pa; times 5e-5 = 0.0503 kg/m²h",
)
def test_over_cold_water_the_air_lies_still_and_the_other_term_counts() -> None:
    assert air.dry_air_kg_m3(22.0, 0.4) < air.dry_air_kg_m3(18.0, 1.0)
    assert open_surface(18.0, 22.0, 0.4) == pytest.approx(0.0503, rel=0.01)


@pytest.mark.source(
    "hand",
    "dry air 1.1896 and 1.1758 kg/m³, so 35·1.1758·0.0138^(1/3)·(0.01470 - 0.00726) = 0.0735"
    " kg/m²h: 24 h give 1.77 mm, over 0.06 m² 106 ml",
)
def test_a_dish_in_a_usual_room() -> None:
    given_off = mm(open_surface(20.0, 20.0, 0.5))
    assert given_off == pytest.approx(1.77, rel=0.02)
    assert given_off * 0.06 * 1000 == pytest.approx(106, rel=0.02)


@pytest.mark.source(
    "hand",
    "1.169 kPa·(0.089 + 0.0782·0.1)/2453.8 kJ/kg·3600 s = 0.166 kg/m²h; without wind 0.153",
)
@pytest.mark.parametrize(("wind", "kg"), [(0.1, 0.166), (0.0, 0.153)])
def test_moved_air_takes_more(wind, kg) -> None:
    assert moved_air(20.0, 20.0, 0.5, wind) == pytest.approx(kg, rel=0.01)


@pytest.mark.source(
    "hand",
    "2.4e-5·0.00864/0.02·3600 = 0.03732 kg/m²h passes, 1/(1/0.0736 + 1/0.03732) = 0.02476:"
    " 0.594 mm a day; under 10 cm 0.00746 and 0.00678: 0.163 mm",
)
@pytest.mark.parametrize(("rim_cm", "mm_a_day"), [(2.0, 0.595), (10.0, 0.163)])
def test_a_rim_keeps_still_air_over_the_water(rim_cm, mm_a_day) -> None:
    assert mm(under_a_rim(0.0736, rim_cm, 0.00864)) == pytest.approx(mm_a_day, rel=0.02)


@given(TEMPERATURES, HUMIDITIES, st.floats(0.01, 0.1))
def test_drier_air_takes_more(warm_c, humidity, less) -> None:
    for formula in (open_surface, moved_air):
        assert formula(warm_c, warm_c, humidity - less) > formula(warm_c, warm_c, humidity)


@given(st.floats(0.01, 0.3), st.floats(0.0, 30.0), st.floats(0.1, 20.0))
def test_a_higher_rim_lets_less_through(given_off, rim_cm, more) -> None:
    low, high = (under_a_rim(given_off, each, 0.0086) for each in (rim_cm, rim_cm + more))
    assert 0 < high < low <= given_off


@given(st.floats(12.0, 31.0), st.floats(0.2, 0.65))
def test_the_quick_formula_is_quicker_in_every_room(warm_c, humidity) -> None:
    assert moved_air(warm_c, warm_c, humidity) > open_surface(warm_c, warm_c, humidity)


# Drinking and falling


@pytest.mark.source("hand", "10 ml · 1.169 kPa = 11.7 ml a day for one leafy stem, five times 58")
def test_stems_drink_by_the_dryness_of_the_air() -> None:
    assert drinks_ml_d([1.0], USUAL) == pytest.approx(11.7, abs=0.05)
    assert drinks_ml_d([1.0] * 5, USUAL) == pytest.approx(58.45, abs=0.2)


def test_bare_branches_drink_less_than_leafy_ones_and_every_plant_drinks() -> None:
    assert leafiness(plant("forsythia")) < leafiness(plant("rose"))
    assert all(leafiness(each) > 0 for each in plants())


@pytest.mark.source(
    "hand",
    "600 cm², 50 ml a day are 0.833 mm; 8 mm / (1.766 + 0.833) = 3.07 days by Shah,"
    " 8 / (4.04 + 0.833) = 1.64 by the short form of the handbook, 4e-5·1.169 kPa kg/m²s",
)
def test_in_how_many_days_it_is_time_to_pour() -> None:
    drunk_mm = 10 * 50 / DISH.area_cm2(3.0)
    assert 8 / (mm(open_surface(20.0, 20.0, 0.5)) + drunk_mm) == pytest.approx(3.07, abs=0.02)
    full = DISH.inside_cm
    fall = falls_cm_d(Standing(DISH, full, USUAL, 50.0), full).usual
    assert 0.8 / fall == pytest.approx(3.07, rel=0.02)
    short_form = 4e-5 * air.deficit_kpa(20.0, 0.5) * 3600
    assert 8 / (mm(short_form) + drunk_mm) == pytest.approx(1.64, abs=0.02)
    assert short_form == pytest.approx(moved_air(20.0, 20.0, 0.5), rel=0.02)


@pytest.mark.source(
    "hand", "with straight walls and the water at the rim, the surface alone: 1.766 mm a day"
)
def test_water_at_the_rim_falls_as_an_open_surface() -> None:
    full = DISH.inside_cm
    assert falls_cm_d(Standing(DISH, full, USUAL), full).usual == pytest.approx(0.1766, rel=0.02)


def test_the_range_is_slow_to_quick() -> None:
    water = Standing(DISH, 3.5, USUAL, 30.0)
    found = falls_cm_d(water, 3.5)
    assert found.low == pytest.approx(SLOW * found.usual)
    assert found.high >= QUICK * 30.0 / DISH.area_cm2(3.5) + cm_a_day(moved_air(20, 20, 0.5))
    assert found.low < found.usual < found.high


@given(st.floats(10.0, 40.0), st.floats(1.1, 2.0), st.sampled_from(list(ROOMS.values())))
def test_a_wider_dish_loses_more_water_and_falls_more_slowly(wide, wider, room) -> None:
    small, large = (vessel("round", each, 6.0) for each in (wide, wide * wider))
    falls = [falls_cm_d(Standing(each, 4.0, room, 40.0), 4.0).usual for each in (small, large)]
    lost = [fall * each.area_cm2(4.0) for fall, each in zip(falls, (small, large), strict=True)]
    assert lost[1] > lost[0]
    assert falls[1] < falls[0]


@given(st.floats(2.0, 4.5), st.floats(0.2, 1.5), st.sampled_from(list(ROOMS.values())))
@settings(deadline=None)
def test_days_and_levels_are_two_sides_of_one_thing(full, fall, room) -> None:
    bowl = vessel("bowl", 24.0, 8.0, wall="curved")
    water = Standing(bowl, full, room, 20.0)
    days = days_until(water, full, full - fall)
    assert days.low < days.usual < days.high
    after = level_after(water, full, days.usual)
    assert after.usual == pytest.approx(full - fall, abs=0.02)
    assert after.low < after.usual < after.high


def test_water_ends_at_the_floor() -> None:
    water = Standing(DISH, 2.0, ROOMS["hot"], 300.0)
    assert level_after(water, 2.0, 400.0).usual == 0.0
    assert level_after(water, 2.0, 0.0).usual == 2.0


# A ruler


@pytest.mark.source("hand", "a reading of 3 mm in 24 h makes the usual rate 3 mm a day")
def test_a_reading_sets_the_rate() -> None:
    full = 3.5
    water = Standing(DISH, full, USUAL, 30.0, (Reading(24.0, 0.3),))
    assert falls_cm_d(water, full).usual == pytest.approx(0.3, rel=1e-6)


@given(st.floats(0.05, 2.0), st.floats(4.0, 72.0))
def test_a_reading_never_makes_the_range_wider(fell, hours) -> None:
    water = Standing(DISH, 3.5, USUAL, 30.0, (Reading(hours, fell),))
    scale = rescaled(water)
    rounding = 1e-9
    assert SLOW - rounding <= scale.low / scale.usual < 1
    assert 1 < scale.high / scale.usual <= QUICK + rounding


def test_more_readings_that_agree_make_it_narrower() -> None:
    one = rescaled(Standing(DISH, 3.5, USUAL, 30.0, (Reading(24.0, 0.3),)))
    three = rescaled(Standing(DISH, 3.5, USUAL, 30.0, (Reading(24.0, 0.3),) * 3))
    assert three.usual == pytest.approx(one.usual)
    assert three.high < one.high
    assert three.low > one.low


@pytest.mark.source("practice", "half a centimetre over the pins; a tall vase at two thirds")
def test_when_it_is_time_to_pour() -> None:
    assert lowest_cm(4.0, 2.2) == pytest.approx(2.7)
    assert lowest_cm(2.5, 2.2) == pytest.approx(2.2)  # it never covers them as it should
    assert lowest_cm(18.0, None) == pytest.approx(12.0)
