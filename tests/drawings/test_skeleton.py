"""How stems grow: their length, their seed, their opening, and what botanists say of them."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from nejime.basis.sources import sources
from nejime.basis.tables import read_text
from nejime.drawings.skeleton.chance import Chance, seed_of
from nejime.drawings.skeleton.foliage import bud, leaf
from nejime.drawings.skeleton.growing import OPENINGS, skeleton
from nejime.drawings.skeleton.heads import GOLDEN_DEG, STAGES, head, opened
from nejime.drawings.skeleton.organs import Body, Thread
from nejime.drawings.skeleton.stem import AROUND_DEG, Stance, node_angles
from nejime.drawings.skeleton.surface import FUNNEL, PALM, PROFILES, Blade, breadth, surf
from nejime.drawings.skeleton.table import FILE, habit, rows
from nejime.drawings.skeleton.vectors import cross, dot
from nejime.plants.table import plants

EVERY = [each.id for each in plants()]
LYING = Stance(up=(0.0, 0.94, 0.34), eye=(0.0, -0.34, 0.94), bow=(1.2, 0.0, 0.0), bare=0.1)


def numbers(grown):
    for axis in grown.axes:
        yield from itertools.chain(*axis.points)
        yield from axis.radii_cm
    for each in grown.placed:
        yield from (*each.frame.at, *each.frame.x, *each.frame.z, each.scale, each.share)


@pytest.mark.parametrize("plant", EVERY)
def test_every_plant_grows_with_finite_numbers_and_true_frames(plant):
    grown = skeleton(plant, 47.0, 6.0, 5, LYING)
    assert all(math.isfinite(each) for each in numbers(grown))
    assert grown.placed or grown.axes
    for each in grown.placed:
        assert dot(each.frame.x, each.frame.x) == pytest.approx(1, abs=1e-6)
        assert dot(each.frame.z, each.frame.z) == pytest.approx(1, abs=1e-6)
        assert dot(each.frame.x, each.frame.z) == pytest.approx(0, abs=1e-6)
        assert 0 < each.scale < 20


@pytest.mark.source("own", "the length of a stem is told along the line from its foot to its end")
@given(length=some.floats(15, 120), seed=some.integers(0, 2**32 - 1))
@pytest.mark.parametrize("plant", ["plum", "twisted-willow", "forsythia", "rose", "camellia"])
def test_the_chord_is_the_length_of_the_stem(plant, length, seed):
    first = skeleton(plant, length, 8.0, seed, LYING).axes[0]
    assert first.points[0] == pytest.approx((0, 0, 0), abs=1e-9)
    assert first.points[-1] == pytest.approx((0, 0, length), abs=1e-9)


@pytest.mark.source("own", "a leaf's end is the end of its stem, as measured")
@pytest.mark.parametrize("plant", ["aspidistra", "hosta", "ti-leaf", "new-zealand-flax"])
def test_the_blade_of_a_leaf_ends_where_the_stem_ends(plant):
    grown = skeleton(plant, 40.0, 4.0, 3, Stance())
    placed = grown.placed[0]
    part = grown.organs[placed.organ].parts[-1]
    end = placed.frame.out(part.frame.out(surf(part.form, 1.0, 0.0), part.scale), placed.scale)
    assert end == pytest.approx((0, 0, 40.0), abs=0.6)


def test_a_stem_keeps_to_its_even_line_where_it_stands_in_the_vessel():
    for plant in ("plum", "pine", "twisted-willow"):
        axis = skeleton(plant, 60.0, 8.0, 11, Stance()).axes[0]
        low = [point for point in axis.points if point[2] < 0.12 * 60.0]
        assert len(low) > 1
        assert all(math.hypot(x, y) < 1e-9 for x, y, _ in low)


def test_nothing_grows_on_the_part_in_the_vessel():
    for plant in EVERY:
        if habit(plant).habit in ("branch", "spray", "spike"):
            grown = skeleton(plant, 50.0, 6.0, 2, Stance(bare=0.5))
            own = habit(plant).foot_leaf
            assert all(each.share > 0.5 for each in grown.placed if each.organ != own), plant


def test_equal_seeds_give_equal_stems_and_other_seeds_others():
    skeleton.cache_clear()
    one = skeleton("cherry", 50.0, 8.0, 4, Stance())
    skeleton.cache_clear()
    assert skeleton("cherry", 50.0, 8.0, 4, Stance()) == one
    assert skeleton("cherry", 50.0, 8.0, 5, Stance()) != one


@pytest.mark.source("memory", "FNV-1a, 32 bits, as its authors print it: of nothing, a, foobar")
def test_seeds_are_made_of_names_by_fnv():
    assert seed_of("") == 0x811C9DC5
    assert seed_of("a") == 0xE40C292C
    assert seed_of("foobar") == 0xBF9CF968


def test_chance_is_even():
    chance = Chance(7)
    drawn = [chance.share() for _ in range(20_000)]
    assert sum(drawn) / len(drawn) == pytest.approx(0.5, abs=0.01)
    counts = [sum(low <= each < low + 0.1 for each in drawn) for low in (0.0, 0.3, 0.6, 0.9)]
    assert all(count == pytest.approx(2000, abs=200) for count in counts)


# The surface


@pytest.mark.source("hand", "t^a (1-t)^b is largest at a/(a+b), where it is divided by itself: 1")
@pytest.mark.parametrize("shape", [each for each in PROFILES if each != "lobed"])
def test_a_blade_is_as_wide_as_it_says_and_closed_at_both_ends(shape):
    a, b = PROFILES[shape]
    assert breadth(shape, a / (a + b)) == pytest.approx(1.0)
    assert max(breadth(shape, step / 50) for step in range(51)) <= 1.0 + 1e-9
    # (1e-6)^0.22 = 0.048: the bluntest ends are cut off by so much.
    assert breadth(shape, 1.0) < 0.1 / b or b < 0.3


@pytest.mark.source(
    "hand", "a blade that curls by 90 along a quarter circle of length 1: 2/π each way"
)
def test_a_curled_blade_lies_on_its_circle():
    x, y, z = surf(Blade(1.0, 0.2, "strap", curl_deg=90.0), 1.0, 0.0)
    assert (x, y, z) == pytest.approx((2 / math.pi, 0.0, -2 / math.pi), abs=1e-9)


@given(
    t=some.floats(0, 1),
    v=some.floats(-1, 1),
    shape=some.sampled_from([*PROFILES, PALM, FUNNEL]),
    curl=some.floats(-120, 120),
)
def test_both_halves_of_a_plain_blade_are_mirrors(t, v, shape, curl):
    blade = Blade(5.0, 3.0, shape, curl_deg=curl, cup=0.3)
    (x, y, z), other = surf(blade, t, v), surf(blade, t, -v)
    assert other == pytest.approx((x, -y, z), abs=1e-9)


# Opening


@pytest.mark.parametrize("name", ["tulip", "rose", "plum", "lily", "dutch-iris", "camellia"])
def test_petals_open_and_never_shrink_from_stage_to_stage(name):
    stages = [head(name, stage) for stage in range(STAGES + 1)]
    for earlier, later in itertools.pairwise(stages):
        for one, other in zip(earlier.parts, later.parts, strict=False):
            if isinstance(one.form, Blade) and isinstance(other.form, Blade):
                assert other.scale >= one.scale
                assert other.frame.x[0] <= one.frame.x[0] + 1e-9
    assert opened(60, 0.0) < opened(60, 0.5) < opened(60, 1.0) == 60


@pytest.mark.source("own", "in bud no flower of a branch is open; the later, the more are open")
@pytest.mark.parametrize(
    "plant", ["plum", "cherry", "flowering-quince", "forsythia", "rape-blossom"]
)
def test_buds_open_with_the_stage(plant):
    def open_flowers(stage):
        grown = [skeleton(plant, 55.0, 8.0, seed, Stance(), stage) for seed in range(5)]
        kinds = [each.organs[placed.organ].kind for each in grown for placed in each.placed]
        return kinds.count("flower") / (kinds.count("flower") + kinds.count("bud"))

    shares = [open_flowers(stage) for stage in OPENINGS.values()]
    assert shares[0] == 0.0
    assert shares[0] < shares[1] < shares[2] < shares[3]


@pytest.mark.source("own", "a flower alone on its stem is slimmer in bud than open")
@pytest.mark.parametrize("plant", ["tulip", "rose", "peony", "lily", "gerbera", "anemone"])
def test_a_flower_in_bud_is_slim(plant):
    name = habit(plant).flower
    widths = [width_cm(name, round(10 * stage)) for stage in OPENINGS.values()]
    assert widths == sorted(widths)
    assert widths[0] < 0.6 * widths[-1]


# What botanists say


def petals(name, tissue="petal", opening=STAGES):
    parts = head(name, opening).parts
    return [part for part in parts if isinstance(part.form, Blade) and part.tissue == tissue]


def stamens(name):
    return [part for part in head(name).parts if isinstance(part.form, Thread)]


def width_cm(name, opening=STAGES):
    """Across the flower: twice the way from its axis to the farthest point of a petal's rib."""
    ribs = [
        part.frame.out(surf(part.form, share / 4, 0.0), part.scale)
        for part in petals(name, opening=opening)
        for share in (1, 2, 3, 4)
    ]
    return 2 * max(math.hypot(y, z) for _, y, z in ribs)


@pytest.mark.source("fna9", "Chaenomeles: petals 5; flowers 25 to 50 mm; leaves alternate")
def test_flowering_quince():
    assert len(petals("quince")) == 5
    assert 2.5 <= width_cm("quince") <= 5.0
    assert habit("flowering-quince").phyllotaxis in ("spiral", "two-ranked")
    assert habit("flowering-quince").flowers[1] <= 5


@pytest.mark.source("auburn-landscape", "forsythia: opposite leaves, flowers with four lobes")
def test_forsythia():
    assert len(petals("forsythia")) == 4
    assert habit("forsythia").phyllotaxis == "opposite"
    assert habit("forsythia").leaf == ""


@pytest.mark.source("wsu-hort231", "flowering dogwood has opposite leaves")
def test_dogwood_is_opposite():
    assert habit("flowering-dogwood").phyllotaxis == "opposite"


@pytest.mark.source("memory", "dogwood: four notched bracts")
def test_dogwood_has_four_notched_bracts():
    assert [part.form.shape for part in petals("dogwood")] == ["notched"] * 4


@pytest.mark.source("weisstein1999", "lilies and irises in threes")
@pytest.mark.parametrize("name", ["lily", "dutch-iris", "japanese-iris", "easter-lily"])
def test_lilies_and_irises_go_in_threes(name):
    assert len(petals(name)) % 3 == 0
    assert len(stamens(name)) % 3 == 0


@pytest.mark.source("memory", "six tepals and six stamens in tulip, narcissus and lily")
@pytest.mark.parametrize("name", ["tulip", "daffodil", "lily"])
def test_six_and_six(name):
    flat = [part for part in petals(name) if part.form.shape != FUNNEL]
    assert len(flat) == 6
    assert len(stamens(name)) == 6


@pytest.mark.source("memory", "five petals in plum and cherry; five sepals and leaflets in roses")
def test_the_rose_family_goes_in_fives():
    assert len(petals("plum")) == len(petals("cherry")) == 5
    assert len([part for part in petals("rose", "leaf") if part.form.shape == "lance"]) == 5
    assert len([part for part in leaf("rose").parts if isinstance(part.form, Blade)]) == 5


@pytest.mark.source(
    "memory", "camellia japonica: 6 or 7 petals, leaves alternate, 5 to 11 × 2.5 to 6"
)
def test_camellia():
    assert len(petals("camellia")) in (6, 7)
    assert habit("camellia").phyllotaxis == "two-ranked"
    (blade,) = (part.form for part in leaf("camellia").parts if isinstance(part.form, Blade))
    assert 5 <= blade.length_cm <= 11
    assert 2.5 <= blade.width_cm <= 6


@pytest.mark.source("memory", "needles in a bundle: black pine 2, white pine 5 of 3.2 to 6.4 cm")
@pytest.mark.parametrize(("name", "count"), [("black-pine", 2), ("white-pine", 5)])
def test_needles_in_a_bundle(name, count):
    needles = [part.form for part in leaf(name).parts]
    assert len(needles) == count
    if name == "white-pine":
        assert all(3.2 <= math.dist(*each.points) <= 6.4 for each in needles)


@pytest.mark.source("vogel1979", "divergence 137.5 degrees, from the golden section")
def test_the_golden_angle():
    assert pytest.approx(137.508, abs=0.001) == GOLDEN_DEG
    assert AROUND_DEG["spiral"] == GOLDEN_DEG


@pytest.mark.source("weisstein1999", "willow 5/13 of a turn: 138.5 degrees, as near as can be seen")
def test_willow_is_spiral():
    assert habit("pussy-willow").phyllotaxis == "spiral"
    assert pytest.approx(360 * 5 / 13, abs=1.0) == GOLDEN_DEG


@pytest.mark.source("memory", "opposite pairs cross: each is turned by 90 from the one below")
@pytest.mark.parametrize("plant", ["forsythia", "eucalyptus", "beautyberry", "hydrangea"])
def test_opposite_leaves_cross(plant):
    below, above = (node_angles(habit(plant), node, 20.0) for node in (0, 1))
    assert below == (20.0, 200.0)
    assert above == (110.0, 290.0)


@pytest.mark.source("memory", "two-ranked leaves are half a turn apart")
def test_two_ranked_leaves_take_turns():
    angles = [node_angles(habit("camellia"), node, 0.0)[0] % 360 for node in range(3)]
    assert angles == [0.0, 180.0, 0.0]


def test_flowers_turn_towards_the_viewers_shoulder():
    for plant in ("gerbera", "anemone", "rose", "chrysanthemum"):
        grown = skeleton(plant, 40.0, 6.0, 1, Stance())
        flower = next(each for each in grown.placed if each.organ == f"{plant}-8")
        stem_end = grown.axes[0].at(1.0)[1]
        assert dot(flower.frame.x, Stance().eye) > dot(stem_end, Stance().eye) + 0.2, plant


@pytest.mark.parametrize("plant", ["cherry", "forsythia", "flowering-quince", "camellia"])
def test_most_blossoms_of_a_branch_show_their_faces(plant):
    facing = [
        dot(each.frame.x, Stance().eye)
        for seed in range(6)
        for each in skeleton(plant, 55.0, 8.0, seed, Stance()).placed
        if each.organ.startswith(f"{habit(plant).flower}-") and "bud" not in each.organ
    ]
    assert len(facing) > 6
    # Flowers that look straight away from their branch show their faces half of the time.
    assert sum(each > 0 for each in facing) > 0.68 * len(facing)


# The table


def test_every_row_belongs_to_a_plant_and_every_name_to_a_row():
    assert set(rows()) <= set(EVERY)
    for plant in EVERY:
        h = habit(plant)
        for name in filter(None, (h.leaf, h.foot_leaf)):
            leaf(name)
        if h.flower:
            head(h.flower)
        if h.bud:
            bud(h.bud)


def test_every_source_in_the_table_is_known():
    notes = [line.split("#", 1)[1] for line in read_text(FILE).splitlines() if "# [" in line]
    assert len(notes) > 10
    assert {note.split("]")[0].strip(" [") for note in notes} <= set(sources())


def test_frames_are_right_handed():
    for part in head("tulip").parts:
        x, y, z = part.frame.x, part.frame.y, part.frame.z
        assert cross(x, y) == pytest.approx(z, abs=1e-9)
    assert any(isinstance(part.form, Body) for part in bud("pussy").parts)
