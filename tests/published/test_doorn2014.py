"""Cut iris 'Blue Magic' for three days in the dark, in water and dry."""

import pytest

from nejime.keeping.opening import OPENING_Q10, opened, opening
from nejime.keeping.vase_life import Spell
from nejime.plants.table import plant

IRIS = plant("dutch-iris")


@pytest.fixture
def stage():
    known = opening(IRIS)
    assert known is not None
    return known.stages[0]


@pytest.mark.source("doorn2014", "in water for three days at 6 or 11 °C: opened")
@pytest.mark.parametrize("at_c", [6.0, 11.0])
def test_in_water_it_opens_in_the_cool(at_c, stage) -> None:
    assert opened(IRIS, stage, [Spell(3, at_c)]) == "open"


@pytest.mark.source("doorn2014", "at 3.0 °C it stayed shut, and opened later at 20 °C")
def test_at_3_degrees_it_opens_later(stage) -> None:
    assert opened(IRIS, stage, [Spell(3, 3.0)]) == "not yet"
    assert opened(IRIS, stage, [Spell(3, 3.0), Spell(2, 20.0)]) == "open"


@pytest.mark.source("doorn2014", "at 0.5 °C in water it never opened")
def test_at_half_a_degree_it_will_not_open(stage) -> None:
    assert opened(IRIS, stage, [Spell(3, 0.5), Spell(2, 20.0)]) == "will not open"


@pytest.mark.source("doorn2014", "dry for three days at 0.5 to 15 °C none opened")
@pytest.mark.parametrize("at_c", [0.5, 3.0, 6.0, 11.0, 15.0])
def test_dry_iris_will_not_open(at_c, stage) -> None:
    dry = [Spell(3, at_c, dry=True), Spell(2, 20.0)]
    assert opened(IRIS, stage, dry) == "will not open"


@pytest.mark.source("own", "on the way home it may lie dry for up to three hours")
def test_the_way_home_does_no_harm(stage) -> None:
    assert opened(IRIS, stage, [Spell(1 / 24, 15.0, dry=True), Spell(2, 20.0)]) == "open"


@pytest.mark.source("doorn2004", "at 20 °C most open on day 1, all by day 2")
def test_at_20_degrees_it_takes_one_to_two_days(stage) -> None:
    assert (stage.takes.low, stage.takes.high) == (1, 2)
    assert opened(IRIS, stage, [Spell(0.9, 20.0)]) == "not yet"
    assert opened(IRIS, stage, [Spell(2, 20.0)]) == "open"


@pytest.mark.source("hand", "3 d at 6 °C and 1 d at 20 °C or more: Q10 <= 3^(10/14) = 2.19")
def test_the_q10_of_opening_is_within_what_iris_allows() -> None:
    assert 1 < OPENING_Q10 <= 3 ** (10 / 14)
