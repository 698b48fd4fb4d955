"""Small wants, shops and gardens for the tests; their plants, prices and shops are invented."""

from __future__ import annotations

from hypothesis import strategies as st

from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.material.supply import Bunch, GardenBranch, Shop
from nejime.material.wanted import Choice, Gladly, Purpose, StemWanted

TULIP, FORSYTHIA, QUINCE, ROSE = "tulip", "forsythia", "flowering-quince", "rose"


def dish(width_cm: float = 30, height_cm: float = 6, **supporting: int) -> Piece:
    """The usual upright piece in a round dish."""
    made = piece(
        vessel("round", width_cm=width_cm, height_cm=height_cm),
        packaged()["width-plus-height"],
        "upright",
    )
    return with_supporting(made, **supporting)


def want(
    who: str = "Ada",
    *plants: str | tuple[str, Gladly],
    least_cm: float = 38,
    count: int = 1,
    stem: str = "first",
    purpose: Purpose = "person",
    aim_cm: float | None = None,
    with_shoots: bool = False,
    thinnest_mm: float | None = None,
    thickest_mm: float | None = None,
) -> StemWanted:
    """A stem wanted: plants in order, the first wished, others as good unless told."""
    told = [each if isinstance(each, tuple) else (each, "as good") for each in plants or (TULIP,)]
    choices = [Choice(told[0][0], "wished"), *(Choice(*each) for each in told[1:])]
    aim = least_cm + 2 if aim_cm is None else aim_cm
    return StemWanted(
        who=who if purpose == "person" else "",
        purpose=purpose,
        stem=stem,
        role="first",
        choices=tuple(choices),
        least_cm=least_cm,
        aim_cm=aim,
        most_cm=aim + 2,
        count=count,
        with_shoots=with_shoots,
        thinnest_mm=thinnest_mm,
        thickest_mm=thickest_mm,
    )


def shop(name: str, *bunches: tuple[object, ...], minimum: int = 0, delivery: int = 0) -> Shop:
    """A shop with bunches written (plant, stems, price, length[, least, most])."""
    made = tuple(Bunch(name, *each) for each in bunches)  # type: ignore[arg-type]
    return Shop(name, made, minimum, delivery)


LENGTHS = st.sampled_from([30.0, 40.0, 50.0, 60.0])
PLANTS = st.sampled_from([TULIP, FORSYTHIA, QUINCE])
BUNCHES = st.tuples(
    PLANTS,
    st.integers(1, 3),
    st.sampled_from([0, 3, 4, 5, 7, 9]),
    LENGTHS,
    st.integers(0, 2),
    st.one_of(st.none(), st.integers(0, 3)),
)
SHOPS = st.lists(
    st.tuples(
        st.lists(BUNCHES, min_size=1, max_size=2), st.sampled_from([0, 5, 12]), st.integers(0, 4)
    ),
    max_size=2,
).map(
    lambda told: tuple(
        shop(f"shop {number}", *bunches, minimum=minimum, delivery=delivery)
        for number, (bunches, minimum, delivery) in enumerate(told)
    )
)
GARDENS = st.lists(
    st.builds(GardenBranch, plant=PLANTS, length_cm=LENGTHS, count=st.integers(1, 3)), max_size=3
).map(tuple)
GLADLIES = st.sampled_from(["as good", "will do", "only if nothing else"])


@st.composite
def wants(draw: st.DrawFn, most: int = 6) -> tuple[StemWanted, ...]:
    """People's stems, and perhaps spares after them."""
    found = []
    for number in range(draw(st.integers(0, most))):
        plants = draw(st.lists(PLANTS, min_size=1, max_size=3, unique=True))
        others = [(plant, draw(GLADLIES)) for plant in plants[1:]]
        others.sort(key=lambda each: ["as good", "will do", "only if nothing else"].index(each[1]))
        least_cm = draw(st.sampled_from([25.0, 35.0, 45.0, 55.0]))
        who = draw(st.sampled_from(["Ada", "Ben"]))
        found.append(want(who, plants[0], *others, least_cm=least_cm, stem=f"sub-{number + 1}"))
    for _ in range(draw(st.integers(0, 1))):
        if found:
            longest = max(found, key=lambda each: each.least_cm)
            found.append(
                want("", longest.wished, least_cm=longest.least_cm, purpose="spare", stem="first")
            )
    return tuple(found)
