"""Buckets and car-loads: hand calculations, and that more is never carried in less."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.keeping.carrying import (
    LIES_CM,
    STANDS_CM,
    Stems,
    buckets_per_load,
    carrying,
    filled_g,
)
from nejime.plants.table import plant, plants

SAY = Words().say
TULIP, ROSE, LEAF = plant("tulip"), plant("rose"), plant("aspidistra")
FORSYTHIA, DAFFODIL = plant("forsythia"), plant("trumpet-daffodil")

ALL = st.builds(
    Stems,
    st.sampled_from(plants()),
    st.integers(0, 80),
    st.floats(10, 180),
    st.none() | st.floats(1, 25),
)


@pytest.mark.source(
    "hand",
    "mouth 26 across: pi/4 x 26^2 = 530.9 cm2. Tulip 3^2 = 9: 58.99; rose 3.5^2 = 12.25: 43.3;"
    " aspidistra 4^2 = 16: 33.2; forsythia of 60, 0.06 x 60 = 3.6, 12.96: 40.97; of 20 cm, 1.2 is"
    " less than the least 3: 58.99; a stake of 50 mm, 5^2 = 25: 21.2; hydrangea 12^2 = 144: 3.7",
)
@pytest.mark.parametrize(
    ("stems", "fit"),
    [
        (Stems(TULIP, 1, 40), 58),
        (Stems(ROSE, 1, 60), 43),
        (Stems(LEAF, 1, 50), 33),
        (Stems(FORSYTHIA, 1, 60), 40),
        (Stems(FORSYTHIA, 1, 20), 58),
        (Stems(FORSYTHIA, 1, 60, thickness_mm=50), 21),
        (Stems(plant("hydrangea"), 1, 40), 3),
    ],
)
def test_so_many_stems_stand_in_a_bucket(stems, fit):
    assert stems.per_bucket == fit


@pytest.mark.source(
    "hand",
    "87 tulips at 58 are 1.5 buckets, 20 forsythia of 60 cm at 40 are 0.5: two together; one tulip"
    " more is a third",
)
def test_sorts_share_buckets():
    two = carrying([Stems(TULIP, 87, 40), Stems(FORSYTHIA, 20, 60)])
    three = carrying([Stems(TULIP, 88, 40), Stems(FORSYTHIA, 20, 60)])
    assert two is not None
    assert three is not None
    assert (two.buckets, three.buckets, two.alone) == (2, 3, 0)


@pytest.mark.source("doorn1998", "one daffodil among other flowers harms them: it stands apart")
def test_daffodils_have_a_bucket_of_their_own():
    other = plant("tazetta-narcissus")
    found = carrying([Stems(TULIP, 5, 40), Stems(DAFFODIL, 5, 30), Stems(other, 5, 30)])
    assert found is not None
    assert (found.buckets, found.alone) == (2, 1)
    said = [SAY(each) for each in found.says]
    assert any("stand alone: Trumpet daffodil and Bunch-flowered narcissus." in x for x in said)


@pytest.mark.source(
    "hand",
    "inside 28 - 1.2 x 0.2 = 27.76 deep, radius 10 at the floor and 13 at the rim: at 10 cm"
    " 10 + 3 x 10 / 27.76 = 11.08. pi x 10 / 3 x (10^2 + 10 x 11.08 + 11.08^2) = 3,493 ml,"
    " and 700 g of bucket",
)
def test_a_bucket_with_a_hand_of_water():
    assert filled_g() == pytest.approx(4193, abs=1)


@pytest.mark.source(
    "hand",
    "roses of 60 cm and 6 mm: firm stem 0.9 g/cm3 x pi/4 x 0.6^2 x 60 = 15.27 g, and a head of"
    " 10 to 20 g or what the table says; 10 of them on 4,193 g",
)
def test_the_stems_weigh_too():
    found = carrying([Stems(ROSE, 10, 60, thickness_mm=6)])
    fact = ROSE.fact("head_g")
    head_g = fact.middle if fact is not None and fact.middle is not None else 12.0
    assert found is not None
    assert found.bucket_g == pytest.approx(filled_g() + 10 * (15.27 + head_g), abs=0.5)


@pytest.mark.source(
    "hand",
    "floor 100 across: 3 of 30 side by side; half of 150 along: 75 / 30 = 2 rows; 6 buckets."
    " 6 x 58 = 348 tulips are one load, one more is a second",
)
def test_six_buckets_are_a_car_load():
    assert buckets_per_load() == 6
    loads = [carrying([Stems(TULIP, count, 40)]) for count in (348, 349)]
    assert [each.loads for each in loads if each is not None] == [1, 2]


@pytest.mark.source(
    "hand",
    "forsythia of 100 cm spreads 6: 36 cm2. 25 of them bundled 30 deep lie 25 x 36 / 30 = 30 cm"
    " wide, 0.6 of the stems' 50; with 2 buckets, 0.33, one load; with 3, 0.5, two. They fill"
    " 25 / floor(530.9 / 36) = 25 / 14, so 2 buckets at home and none on the way",
)
def test_long_branches_lie_in_the_car():
    branches = Stems(FORSYTHIA, 25, 100)
    alone, two, three = (
        carrying([branches, Stems(TULIP, tulips, 40)]) for tulips in (0, 2 * 58, 3 * 58)
    )
    assert alone is not None
    assert two is not None
    assert three is not None
    assert (alone.buckets, alone.standing, alone.loads) == (2, 0, 1)
    assert (two.standing, two.loads) == (2, 1)
    assert (three.standing, three.loads) == (3, 2)
    said = [SAY(each) for each in alone.says]
    assert any("25 stems are too long to stand in a car, over 75 cm: Forsythia." in x for x in said)
    assert not any("weighs" in x or "Tulip" in x for x in said)


@pytest.mark.parametrize(
    ("length_cm", "lies", "too_long"),
    [(STANDS_CM, 0, 0), (STANDS_CM + 1, 1, 0), (LIES_CM, 1, 0), (LIES_CM + 1, 1, 1)],
)
def test_what_stands_lies_or_is_too_long(length_cm, lies, too_long):
    found = carrying([Stems(FORSYTHIA, 1, length_cm)])
    assert found is not None
    assert (len(found.lying), len(found.too_long)) == (lies, too_long)
    said = [SAY(each) for each in found.says]
    assert sum("longer than most cars" in x for x in said) == too_long


def test_where_there_are_no_stems_nothing_is_carried():
    assert carrying([]) is None
    assert carrying([Stems(TULIP, 0, 40)]) is None


@given(st.lists(ALL, max_size=5), ALL)
def test_more_stems_never_take_fewer_buckets_or_loads(stems, more):
    before, after = carrying(stems), carrying([*stems, more])
    if before is None or after is None:
        assert before is None
        return
    assert after.buckets >= before.buckets
    assert after.alone >= before.alone
    assert after.standing >= before.standing
    assert after.loads >= before.loads


@given(st.lists(ALL, min_size=1, max_size=5))
def test_what_is_carried_has_room(stems):
    found = carrying(stems)
    if found is None:
        return
    assert found.alone <= found.buckets
    assert found.standing <= found.buckets
    assert 1 <= found.loads <= found.standing + len(found.lying) * 80
    assert found.bucket_g >= filled_g()
    backwards = carrying(stems[::-1])
    assert backwards is not None
    assert (backwards.buckets, backwards.loads) == (found.buckets, found.loads)
    for unit in ("cm", "in", "both"):
        assert all(Words(unit=unit).say(each) for each in found.says)


@given(ALL, st.floats(0, 60), st.floats(0, 10))
def test_longer_or_thicker_stems_never_stand_closer(stems, longer_cm, thicker_mm):
    longer = replace(stems, length_cm=stems.length_cm + longer_cm)
    assert longer.per_bucket <= stems.per_bucket
    if stems.thickness_mm:
        thicker = replace(stems, thickness_mm=stems.thickness_mm + thicker_mm)
        assert thicker.per_bucket <= stems.per_bucket
