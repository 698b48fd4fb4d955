"""The list for the shop aisle and for the garden: rows of values; a paper prints them.

Model: one row an offer that is bought, with what it is for and what may be taken instead. What was
really bought is written in by hand, so every row ends in blanks (`BLANKS`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from nejime.basis.sayings import Saying
from nejime.material.buying import Buy, Buying, Use
from nejime.material.piles import PileName, Piles
from nejime.material.supply import Bunch, GardenBranch, MaterialRole
from nejime.material.wanted import GLADLY, Choice
from nejime.plants.table import plant

BLANKS = ("plant", "bunches", "stems", "length", "price")
"""What is written in by hand in the shop."""


@dataclass(frozen=True, slots=True)
class ShoppingRow:
    """One kind of bunch to buy.

    `wanted` of its `stems` are for somebody, `for_` the roles they stand in. `long_cm` is what the
    longest of these stems is cut to for its pile; `grade_cm` is what the shop promises.
    `stand_ins`: what may be taken instead, the best first.
    """

    plant: str
    bunches: int
    stems_each: int
    stems: int
    wanted: int
    for_: tuple[MaterialRole, ...]
    long_cm: float
    grade_cm: float
    each_minor: int
    price_minor: int
    stand_ins: tuple[Choice, ...]

    @property
    def says(self) -> Saying:
        """What to buy, in words: "2 bunches of 10 Tulip, at least 33 cm long"."""
        return Saying(
            "material.shopping.bunches",
            count=self.bunches,
            stems=self.stems_each,
            plant=plant(self.plant).english,
            long_cm=self.long_cm,
        )

    @property
    def instead(self) -> tuple[Saying, ...]:
        """The stand-ins in words, the best first: "Forsythia (as good)"."""
        return tuple(
            Saying(
                "material.shopping.stand-in",
                plant=plant(each.plant).english,
                gladly=Saying(f"material.gladly.{each.gladly.replace(' ', '-')}"),
            )
            for each in self.stand_ins
        )


@dataclass(frozen=True, slots=True)
class ShopList:
    """What to buy in one shop; `bunches_minor` and `delivery_minor` make `total_minor`."""

    shop: str
    rows: tuple[ShoppingRow, ...]
    bunches_minor: int
    delivery_minor: int
    total_minor: int


@dataclass(frozen=True, slots=True)
class GardenRow:
    """What to cut at `place`: `count` branches of `cut_cm`, the length of their pile.

    `pile` is None where they are cut by name; then `cut_cm` is the longest of them. `whole`: their
    side shoots are wanted too, so they come home uncut and are at least so long.
    """

    plant: str
    place: str
    count: int
    cut_cm: float
    pile: PileName | None
    whole: bool = False

    @property
    def how(self) -> Literal["cut", "cut-up-to", "cut-whole"]:
        """How they are cut there."""
        if self.whole:
            return "cut-whole"
        return "cut" if self.pile else "cut-up-to"

    @property
    def says(self) -> Saying:
        """What to cut, in words: "8 Forsythia, 57 cm long"."""
        return Saying(
            f"material.shopping.{self.how}",
            count=self.count,
            plant=plant(self.plant).english,
            cut_cm=self.cut_cm,
        )


@dataclass(frozen=True, slots=True)
class Shopping:
    """What to buy, shop by shop, and what to cut in the garden."""

    shops: tuple[ShopList, ...]
    garden: tuple[GardenRow, ...]
    total_minor: int


def shopping(bought: Buying, cut: Piles) -> Shopping:
    """The lists for the shops and the garden, `cut` being the piles of what is bought."""
    return Shopping(
        shops=tuple(
            ShopList(
                shop=each.shop.name,
                rows=tuple(_row(buy, bought.uses) for buy in each.buys),
                bunches_minor=each.bunches_minor,
                delivery_minor=each.delivery_minor,
                total_minor=each.total_minor,
            )
            for each in bought.by_shop
        ),
        garden=_garden_rows(bought, cut),
        total_minor=bought.total_minor,
    )


def _row(buy: Buy, uses: Sequence[Use]) -> ShoppingRow:
    bunch = buy.bunch
    own = [use for use in uses if use.from_ == bunch]
    return ShoppingRow(
        plant=bunch.plant,
        bunches=buy.count,
        stems_each=bunch.stems,
        stems=buy.stems,
        wanted=len(own),
        for_=tuple(dict.fromkeys(use.wanted.role for use in own)),
        long_cm=max((use.cut_to_cm for use in own), default=bunch.length_cm),
        grade_cm=bunch.length_cm,
        each_minor=bunch.price_minor,
        price_minor=buy.price_minor,
        stand_ins=_stand_ins(bunch, own),
    )


def _stand_ins(bunch: Bunch, own: Sequence[Use]) -> tuple[Choice, ...]:
    """The other plants that may be used for any of these stems, the gladdest first, each once."""
    every = [choice for use in own for choice in use.wanted.choices if choice.plant != bunch.plant]
    found: dict[str, Choice] = {}
    for choice in sorted(every, key=lambda choice: (GLADLY.index(choice.gladly), choice.plant)):
        found.setdefault(choice.plant, choice)
    return tuple(found.values())


def _garden_rows(bought: Buying, cut: Piles) -> tuple[GardenRow, ...]:
    """What to cut in the garden, pile by pile, then what is cut by name, then what stays whole."""
    rows = [
        GardenRow(pile.plant, each.source.name, each.count, pile.length_cm, pile.name)
        for pile in cut.piles
        for each in pile.from_
        if isinstance(each.source, GardenBranch) and not each.source.shoots
    ]
    named: dict[GardenBranch, list[float]] = {}
    for one in cut.by_name:
        source = one.use.from_
        if isinstance(source, GardenBranch) and not source.shoots:
            named.setdefault(source, []).append(one.cut_to_cm)
    rows += [
        GardenRow(branch.plant, branch.name, len(lengths), max(lengths), None)
        for branch, lengths in named.items()
    ]
    rows += [
        GardenRow(each.branch.plant, each.branch.name, each.count, each.least_cm, None, whole=True)
        for each in bought.from_garden
        if each.branch.shoots
    ]
    return tuple(rows)
