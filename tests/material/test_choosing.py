"""What is in season on a day, and what beginners are offered."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.material import choosing
from nejime.material.choosing import ROLES, Asked, Proposal, in_season, proposals, roles_of
from nejime.material.occasions import Held, When, occasion
from nejime.plants.plant import CENTRAL_JAPAN, SHOPS, SHOPS_JAPAN, TEMPERATE_NORTH, Plant
from nejime.plants.table import plant, plants

MARCH = dt.date(2027, 3, 12)
PLACES = [(TEMPERATE_NORTH, SHOPS), (CENTRAL_JAPAN, SHOPS_JAPAN)]
months = st.integers(1, 12)
some_plants = st.lists(st.sampled_from(plants()), unique_by=lambda each: each.id, max_size=40)


def asked(month: int = 3, **more: object) -> Asked:
    return Asked(dt.date(2027, month, 12), {}, **more)  # type: ignore[arg-type]


def held(name: str, first: dt.date) -> Held:
    found = occasion(name)
    assert found is not None
    return Held(found, first, first)


def ids(choices: object) -> list[str]:
    return [each.plant.id for each in choices]  # type: ignore[attr-defined]


# In season


@pytest.mark.source(
    "memory", "plant table: forsythia in gardens 3-4, in shops 1-4; tulip 4-5, 12-5"
)
def test_gardens_and_shops_are_told_apart():
    found = in_season(asked(2), (plant("forsythia"), plant("tulip")))
    assert ids(found.garden["line"]) == []
    assert ids(found.shops["line"]) == ["forsythia"]
    assert ids(found.shops["mass"]) == ["tulip"]
    april = in_season(asked(4), (plant("forsythia"), plant("tulip")))
    assert ids(april.garden["line"]) == ["forsythia"]
    assert ids(april.garden["mass"]) == ["tulip"]


@pytest.mark.source("memory", "plant table: forsythia in gardens 3-4, pieris 1-12")
@pytest.mark.parametrize("name", ["forsythia", "pieris"])
def test_what_is_not_known_at_a_place_is_not_offered_by_the_months_of_another(name):
    known = in_season(asked(4), (plant(name),))
    nothing = in_season(replace(asked(4), stages={name: None}), (plant(name),))
    assert ids(known.garden["line"]) == [name]
    assert not any(nothing.garden.values())


@pytest.mark.source("practice", "branches are forced from the bud; a tulip is cut in colour")
def test_in_bud_a_branch_is_offered_and_a_flower_is_not():
    buds = replace(asked(2), stages={"forsythia": "bud", "tulip": "bud"})
    found = in_season(buds, (plant("forsythia"), plant("tulip")))
    assert ids(found.garden["line"]) == ["forsythia"]
    assert ids(found.garden["mass"]) == []


@pytest.mark.parametrize("stage", ["bud", "colour showing", "open"])
def test_a_known_stage_decides_in_gardens_whatever_the_months_say(stage):
    early = replace(asked(2), stages={"forsythia": stage})
    (choice,) = in_season(early, (plant("forsythia"),)).garden["line"]
    assert choice.stage == stage
    assert any(stage.replace(" ", "-") in reason.key for reason in choice.reasons)


@pytest.mark.source("practice", "a branch in bud opens in a room; a leaf that is not grown is none")
def test_a_leaf_a_grass_a_berry_is_not_chosen_before_it_is_grown():
    for name, role in (("hosta", "leaf"), ("susuki", "line"), ("beautyberry", "line")):
        for stage, there in (("bud", 0), ("colour showing", 1), ("open", 1)):
            told = replace(asked(2), stages={name: stage})
            assert len(in_season(told, (plant(name),)).garden[role]) == there


@pytest.mark.parametrize("stage", ["not yet", "past"])
def test_what_is_not_yet_or_no_longer_open_is_not_in_season_in_gardens(stage):
    late = replace(asked(4), stages={"forsythia": stage})
    found = in_season(late, (plant("forsythia"),))
    assert ids(found.garden["line"]) == []
    assert ids(found.shops["line"]) == ["forsythia"]


@pytest.mark.source("memory", "plant table: pieris in gardens 1-12, for its leaves")
@pytest.mark.parametrize("stage", ["past", "open"])
def test_what_is_there_all_year_is_so_whether_it_blooms_or_not(stage):
    told = replace(asked(10), stages={"pieris": stage})
    (pieris,) = in_season(told, (plant("pieris"),)).garden["line"]
    assert pieris.stage is None
    assert any(reason.key.endswith("garden-all-year") for reason in pieris.reasons)


@pytest.mark.source("memory", "plant table: aspidistra in gardens of central Japan alone")
def test_what_no_garden_here_is_known_to_have_all_year_is_not_told_of_gardens():
    seen = replace(asked(3), stages={"aspidistra": "open"})
    assert in_season(seen, (plant("aspidistra"),)).garden["leaf"] == ()
    japan = replace(seen, garden=CENTRAL_JAPAN)
    assert ids(in_season(japan, (plant("aspidistra"),)).garden["leaf"]) == ["aspidistra"]


@pytest.mark.source("memory", "plant table: gerbera in gardens of central Japan alone")
def test_a_stage_that_is_known_here_counts_where_no_months_are():
    told = replace(asked(5), stages={"gerbera": "open"})
    (gerbera,) = in_season(told, (plant("gerbera"),)).garden["mass"]
    assert gerbera.stage == "open"
    assert in_season(asked(5), (plant("gerbera"),)).garden["mass"] == ()


@given(months, st.sampled_from(PLACES))
def test_the_south_in_a_month_has_what_the_north_has_half_a_year_on(month, places):
    garden, shops = places
    north = in_season(asked((month + 5) % 12 + 1, garden=garden, shops=shops), plants())
    south = in_season(asked(month, garden=garden, shops=shops, southern=True), plants())
    for role in ROLES:
        assert ids(south.garden[role]) == ids(north.garden[role])
        assert ids(south.shops[role]) == ids(north.shops[role])


@pytest.mark.source("hand", "March to April in the north is September to October in the south")
def test_months_are_named_as_they_are_in_the_south():
    (choice,) = in_season(asked(9, southern=True), (plant("forsythia"),)).garden["line"]
    said = " ".join(Words().say(reason) for reason in choice.reasons)
    assert "September to October" in said


@given(months, st.sampled_from(PLACES))
def test_the_shortest_season_stands_first(month, places):
    found = in_season(asked(month, garden=places[0], shops=places[1]), plants())
    for role in ROLES:
        for choices in (found.garden[role], found.shops[role], found.of(role)):
            lengths = [each.months for each in choices]
            assert lengths == sorted(lengths)
            assert len(set(ids(choices))) == len(choices)


@pytest.mark.parametrize("each", plants(), ids=lambda each: each.id)
def test_over_a_year_a_plant_is_there_in_exactly_its_months(each: Plant):
    """The twelve months one after the other give back the months of the table."""
    whole = [f for f in each.facts_of("garden_months", TEMPERATE_NORTH) if f.is_whole]
    for month in range(1, 13):
        found = in_season(asked(month), (each,))
        there = any(found.garden[role] for role in roles_of(each))
        assert there == (bool(roles_of(each)) and any(fact.holds_in(month) for fact in whole))


@pytest.mark.source("narita2022", "forbidden to grow, keep and carry in Japan")
def test_what_the_law_forbids_is_left_out_with_the_reason():
    seen = (plant("lance-coreopsis"), plant("cosmos"))
    for region in ("JP", "jp-13", "Japan"):
        found = in_season(asked(7, region=region), seen)
        (left,) = found.left_out
        assert left.plant.id == "lance-coreopsis"
        assert "the law forbids" in Words().say(left.says)
        assert ids(found.garden["mass"]) == ["cosmos"]
    assert in_season(asked(7, region="US"), seen).left_out == ()


@pytest.mark.source("fda2014", "true lilies are deadly to cats")
def test_what_is_not_for_homes_is_shown_and_marked_but_never_proposed():
    seen = (plant("lily"), plant("forsythia"))
    (lily,) = in_season(asked(3), seen).shops["mass"]
    assert not lily.goes_home
    assert any("Not for homes" in Words().say(reason) for reason in lily.reasons)
    assert proposals(asked(3), seen) == ()


# Advice


@pytest.mark.source(
    "practice", "camellias drop their flowers whole: not taken to the sick in Japan"
)
def test_what_is_unlucky_is_told_and_never_left_out():
    told = in_season(asked(3, purpose="sick-visit", region="JP"), (plant("camellia"),))
    (camellia,) = told.garden["line"]
    (advice,) = camellia.advice
    assert advice.here
    assert "whole" in Words().say(advice.says)
    plain = in_season(asked(3), (plant("camellia"),)).garden["line"][0]
    assert plain.advice == ()


@given(months, st.sampled_from(["", "sick-visit", "memorial", "table", "tea"]))
def test_a_purpose_changes_no_choice(month, purpose):
    plain = in_season(asked(month), plants())
    told = in_season(asked(month, purpose=purpose), plants())
    for role in ROLES:
        assert ids(plain.of(role)) == ids(told.of(role))


# Occasions


@pytest.mark.source("practice", "susuki is the grass of moon viewing")
def test_the_occasions_own_material_comes_first():
    moon = held("moon-viewing", dt.date(2026, 9, 25))
    viewing = Asked(moon.first, {}, garden=CENTRAL_JAPAN, shops=SHOPS_JAPAN, region="JP", held=moon)
    (first, *_) = proposals(viewing, plants())
    assert first.picks[0].choice.plant.id == "susuki"
    assert first.picks[0].choice.of_occasion
    assert in_season(viewing, plants()).substitute is None
    without = proposals(replace(viewing, held=None), plants())
    assert without[0].picks[0].choice.plant.id != "susuki"


@pytest.mark.source("memory", "flowers for graves in the week of the equinox: told, not put first")
def test_what_is_traditional_from_memory_alone_does_not_lead():
    week = held("spring-higan", dt.date(2027, 3, 20))
    told = in_season(Asked(week.first, {}, held=week), plants())
    (stock,) = (each for each in told.shops["mass"] if each.plant.id == "stock")
    assert stock.of_occasion
    assert not stock.leads
    plain = in_season(Asked(week.first, {}), plants())
    for role in ROLES:
        assert ids(told.of(role)) == ids(plain.of(role))


def test_in_the_south_the_date_stays_and_something_local_is_asked_for():
    peach = held("peach-festival", dt.date(2027, 3, 3))
    south = in_season(Asked(peach.first, {}, southern=True, held=peach), plants())
    assert south.substitute is not None
    said = Words().say(south.substitute)
    assert "Flowering peach" in said
    assert "where you are" in said


@pytest.mark.source("memory", "plant table: peach in gardens in April, in shops February to April")
def test_where_none_of_the_traditional_material_is_to_be_had_that_is_said():
    peach = held("peach-festival", dt.date(2027, 3, 3))
    seen = (plant("forsythia"), plant("tulip"))
    found = in_season(Asked(peach.first, {}, held=peach), seen)
    assert found.substitute is not None
    assert in_season(Asked(peach.first, {}, held=peach), plants()).substitute is None


# Proposals


def tells(made: tuple[Proposal, ...]) -> bool:
    return bool(made) and made[0].tells_season


@given(months, some_plants, st.sampled_from(plants()))
def test_one_plant_more_never_takes_a_proposals_season_away(month, few, one):
    """With more to choose from, the first two stems tell the season at least as well."""
    before = proposals(asked(month), few)
    after = proposals(asked(month), [*few, one])
    if before:
        assert after
    if tells(before):
        assert tells(after)
        assert after[0].picks[0].choice.months <= before[0].picks[0].choice.months or (
            after[0].picks[0].choice.plant.kind in choosing.WANTED_KINDS["line"]
            and before[0].picks[0].choice.plant.kind not in choosing.WANTED_KINDS["line"]
        )


@given(months, some_plants)
def test_the_order_in_which_plants_are_told_changes_nothing(month, few):
    assert proposals(asked(month), few) == proposals(asked(month), few[::-1])


@pytest.mark.parametrize("month", range(1, 13))
@pytest.mark.parametrize("places", PLACES)
def test_every_month_has_three_proposals_whose_first_stems_tell_the_season(month, places):
    made = proposals(asked(month, garden=places[0], shops=places[1]), plants())
    assert len(made) == 3
    lines = {each.picks[0].choice.plant.id for each in made}
    flowers = {each.picks[1].choice.plant.id for each in made}
    assert len(lines) == len(flowers) == 3
    for each in made:
        assert each.tells_season
        assert 2 <= len(each.picks) <= 3
        assert each.picks[0].stems[:2] == ("first", "second")
        assert each.picks[1].choice.plant.kind == "flower"
        assert len({pick.choice.plant.id for pick in each.picks}) == len(each.picks)


@given(months, st.sampled_from(PLACES))
def test_every_fall_back_is_what_shops_have_nearly_all_year(month, places):
    for each in proposals(asked(month, garden=places[0], shops=places[1]), plants()):
        for pick in each.picks:
            assert pick.choice.goes_home
            assert pick.reasons
            safe = pick.fall_back or pick.choice
            assert safe.where == "shop"
            assert safe.months >= 10
            assert safe.goes_home
            assert pick.role in roles_of(safe.plant)


@pytest.mark.source("miller2010", "oriental bittersweet spreads in North America")
def test_what_spreads_in_the_region_is_told_and_not_proposed():
    here = asked(11, region="US")
    choices = in_season(here, plants()).garden["line"]
    (bittersweet,) = (each for each in choices if each.plant.id == "bittersweet")
    assert bittersweet.spreads
    proposed = {p.choice.plant.id for made in proposals(here, plants(), 40) for p in made.picks}
    assert "bittersweet" not in proposed
    assert "beautyberry" in proposed


@given(months)
def test_every_sentence_can_be_said(month):
    words = Words()
    moon = Held(held("moon-viewing", MARCH).occasion, MARCH, MARCH)
    for southern in (False, True):
        told = asked(month, southern=southern, held=moon, purpose="table", region="JP")
        found = in_season(told, plants())
        said = [reason for role in ROLES for each in found.of(role) for reason in each.reasons]
        said += [advice.says for role in ROLES for e in found.of(role) for advice in e.advice]
        said += [left.says for left in found.left_out]
        said += [found.substitute] if found.substitute else []
        for saying in said:
            text = words.say(saying)
            assert text.endswith(".")
            assert "{" not in text


def test_a_day_of_every_year_is_a_date_a_longitude_or_the_moon():
    assert When(civil=(3, 3)).day(2027, dt.UTC) == dt.date(2027, 3, 3)
