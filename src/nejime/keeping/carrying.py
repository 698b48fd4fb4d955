"""How many buckets the stems of a class fill, and how many car-loads that makes.

Model: stems stand in a bucket side by side without pressing each other, each in a square as wide as
it spreads. A flower or leaf is as wide as its kind; the twigs of a branch spread by a share of its
length, but for a least width; nothing is narrower than it is thick. So a bucket holds a whole
number of stems of a sort, and sorts share buckets: half a bucket of one leaves room for half a
bucket of another. Flowers that must stand alone (by their treatment) have buckets of their own.
A car stands for a small one with its back seats folded, half of its floor left for bowls and tools.
Buckets stand on it in rows. Stems that are too long to stand under its roof lie along the floor in
bundles and take a strip of it. All need their bucket at home and in the room; what lies needs none
on the way.
Left out: single heads that are unusually wide, but for hydrangeas.
Shapes: lengths as the stems are cut for their piles, from end to end.
Source: our own reckoning with the sizes beside the constants. Volume of water: `forms.vessel`.
Masses of stems: `standing.masses`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import cast

from nejime.basis.sayings import Saying
from nejime.forms.vessel import vessel
from nejime.keeping.conditioning import treatment
from nejime.plants.plant import Plant
from nejime.standing.masses import FLOWER_HEAD_G, Body, Kind, parts, usual_thickness_mm

BUCKET = vessel(  # [own] a household bucket of about ten litres
    "round", 26.0, 28.0, floor_width_cm=20.0, wall_cm=0.2, ware="plastic", mass_g=700.0
)
ACROSS_CM = 30.0  # [own] such a bucket outside, with its rim and handle
WATER_CM = 10.0  # [practice] on the way "a hand of water", which does not slop over

SPREAD_CM = {  # [own] what a stem takes up without bruising, by its kind
    "soft-stem": 3.0,  # [own] a tulip in bud
    "firm-stem": 3.5,  # [own] a rose: about forty to a bucket
    "leaf-stalk": 4.0,  # [own] blades lie against each other
}
SPREAD_OF_LENGTH = {  # [own] how far twigs reach, over the branch's length, loosely bound
    "bare-branch": 0.06,
    "leafy-branch": 0.10,
}
LEAST_SPREAD_CM = 3.0  # [own] a short branch still has buds, flowers or leaves
SPREAD_BY_TREATMENT_CM = {"hydrangea": 12.0}  # [own] one head that may not be pressed

STANDS_CM = 75.0  # [own] from the floor of a small car to its roof, the cover taken out
LIES_CM = 150.0  # [own] from its tail to the front seats, back seats folded
BETWEEN_CM = 100.0  # [own] its floor from side to side, between the wheels
STEMS_SHARE = 0.5  # [own] the rest is for bowls, pin holders, covers and tools
BUNDLED_CM = 30.0  # [own] how deep bundles lie before the lowest are pressed

ALONE = "alone"  # the step of a treatment which keeps a flower away from all others


@dataclass(frozen=True, slots=True)
class Stems:
    """`count` stems of a plant, all of a length; `thickness_mm` at the cut, None if not known."""

    plant: Plant
    count: int
    length_cm: float
    thickness_mm: float | None = None

    @property
    def body(self) -> Body:
        """What one of them is made of: what was told, else what is known, else what is usual."""
        kind = cast("Kind", self.plant.stem)
        thick = self.thickness_mm or _middle(self.plant, "thickness_mm")
        head_g = _middle(self.plant, "head_g")
        usual_g = FLOWER_HEAD_G if self.plant.kind == "flower" else 0.0
        return Body(kind, thick or usual_thickness_mm(kind, self.length_cm), head_g or usual_g)

    @property
    def across_cm(self) -> float:
        """How wide one of them spreads."""
        known = SPREAD_BY_TREATMENT_CM.get(self.plant.treatment) or SPREAD_CM.get(self.plant.stem)
        twigs = SPREAD_OF_LENGTH.get(self.plant.stem, 0.0) * self.length_cm
        return max(known or twigs, LEAST_SPREAD_CM, self.body.thickness_mm / 10)

    @property
    def per_bucket(self) -> int:
        """How many of them a bucket holds, at least one."""
        mouth_cm2 = math.pi / 4 * BUCKET.width_cm**2
        return max(1, math.floor(mouth_cm2 / self.across_cm**2))

    @property
    def mass_g(self) -> float:
        """What all of them weigh."""
        one = parts(self.body, self.length_cm)
        return self.count * (one.stem.g + one.head.g)

    @property
    def alone(self) -> bool:
        """Whether they stand apart from all other flowers."""
        return any(step.name == ALONE for step in treatment(self.plant).steps)

    @property
    def lies(self) -> bool:
        """Whether they are too long to stand in a car."""
        return self.length_cm > STANDS_CM

    @property
    def strip_cm(self) -> float:
        """How much of a car's floor they take from side to side, lying in bundles along it."""
        return self.count * self.across_cm**2 / BUNDLED_CM


@dataclass(frozen=True, slots=True)
class Carrying:
    """Buckets and car-loads for all `stems` of a class.

    `buckets` are wanted in all, `alone` of them for flowers that stand alone; `standing` of them
    travel with stems in them. `bucket_g` is what one of these weighs on average.
    """

    stems: tuple[Stems, ...]
    buckets: int
    alone: int
    standing: int
    loads: int
    bucket_g: float

    @property
    def lying(self) -> tuple[Stems, ...]:
        """What lies in the car."""
        return tuple(each for each in self.stems if each.lies)

    @property
    def too_long(self) -> tuple[Stems, ...]:
        """What is longer than a car is inside."""
        return tuple(each for each in self.stems if each.length_cm > LIES_CM)

    @property
    def says(self) -> tuple[Saying, ...]:
        """Buckets, what stands alone, what they weigh, what lies, and car-loads, as sentences."""
        fits = _fits(self.stems)
        said = [
            Saying(
                "keeping.carrying.buckets", count=self.buckets, mouth_cm=BUCKET.width_cm, what=fits
            )
        ]
        if self.alone:
            apart = _names(each for each in self.stems if each.alone)
            said.append(Saying("keeping.carrying.alone", count=self.alone, plants=apart))
        if self.standing:
            said.append(Saying("keeping.carrying.weighs", bucket_kg=self.bucket_g / 1000))
        said += _long("keeping.carrying.lies", self.lying, stands_cm=STANDS_CM)
        said += _long("keeping.carrying.too-long", self.too_long, lies_cm=LIES_CM)
        return (*said, Saying("keeping.carrying.loads", count=self.loads))


def carrying(stems: Sequence[Stems]) -> Carrying | None:
    """How stems are carried to a class; None where there are none."""
    if not any(each.count for each in stems):
        return None
    upright = [each for each in stems if not each.lies]
    together, apart = _buckets(stems)
    standing = sum(_buckets(upright))
    strip = sum(Fraction(each.strip_cm) for each in stems if each.lies)
    floor = Fraction(standing, buckets_per_load()) + strip / Fraction(BETWEEN_CM * STEMS_SHARE)
    stems_g = sum(each.mass_g for each in upright)
    return Carrying(
        stems=tuple(stems),
        buckets=together + apart,
        alone=apart,
        standing=standing,
        loads=math.ceil(floor),
        bucket_g=filled_g() + (stems_g / standing if standing else 0.0),
    )


def buckets_per_load() -> int:
    """How many buckets stand on the stems' share of a car's floor, in rows."""
    return math.floor(BETWEEN_CM / ACROSS_CM) * math.floor(LIES_CM * STEMS_SHARE / ACROSS_CM)


def filled_g() -> float:
    """What a bucket weighs with its water for the way, in grams (water: 1 g/ml)."""
    return BUCKET.mass.g + BUCKET.volume_ml(WATER_CM)


def _buckets(stems: Iterable[Stems]) -> tuple[int, int]:
    """How many buckets hold what may stand together, and how many more what stands alone."""
    together, apart = Fraction(0), dict[str, Fraction]()
    for each in stems:
        share = Fraction(each.count, each.per_bucket)
        if each.alone:
            group = each.plant.treatment
            apart[group] = apart.get(group, Fraction(0)) + share
        else:
            together += share
    return math.ceil(together), sum(math.ceil(share) for share in apart.values())


def _middle(plant: Plant, what: str) -> float | None:
    fact = plant.fact(what)
    return fact.middle if fact else None


def _fits(stems: Iterable[Stems]) -> tuple[Saying, ...]:
    """Each plant, how many there are of it, and how many of these fit a bucket on average."""
    count, share = Counter[str](), dict[str, Fraction]()
    for each in stems:
        name = each.plant.english
        count[name] += each.count
        share[name] = share.get(name, Fraction(0)) + Fraction(each.count, each.per_bucket)
    return tuple(
        Saying(
            "keeping.carrying.fits",
            plant=name,
            count=count[name],
            per_bucket=math.floor(count[name] / of_bucket),
        )
        for name, of_bucket in share.items()
        if of_bucket
    )


def _names(stems: Iterable[Stems]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each.plant.english for each in stems if each.count))


def _long(key: str, stems: Sequence[Stems], **limit_cm: float) -> list[Saying]:
    """One sentence on stems over a limit; none where there are none."""
    count = sum(each.count for each in stems)
    return [Saying(key, count=count, plants=_names(stems), **limit_cm)] if count else []
