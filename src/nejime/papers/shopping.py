"""The buying and shopping list: shop by shop and garden, ranked stand-ins, blanks for what was got.

Source: the purchases come from `material.buying`; nothing is added up here.
"""

from __future__ import annotations

from collections.abc import Iterable

from nejime.basis.sayings import Saying, Words
from nejime.material.buying import AtShop, Buying
from nejime.material.supply import HOWS, How, Wish
from nejime.papers import sections
from nejime.papers.sections import TICK, Section, blank, quiet, strong
from nejime.papers.sheet import Sheet
from nejime.papers.wording import fixed, plant_cell, plant_name, said, word

BLANK_MM = 22.0  # [own] room for a number written by hand


def shopping(bought: Buying, wishes: Iterable[Wish], words: Words, above: str = "") -> Sheet:
    """The list for one class."""
    say = fixed(words, "shopping")
    listed: list[Section] = [
        sections.text("", _total(bought, words)),
        sections.points(word(words, "shopping.missing"), _missing(bought, words)),
        *(_shop(each, words, say) for each in bought.by_shop),
        _garden(bought, words, say),
        _stand_ins(wishes, words, say),
        sections.points(word(words, "shopping.extra"), _extra(bought, words)),
    ]
    return sections.sheet("shopping", word(words, "shopping.title"), above, listed)


def _total(bought: Buying, words: Words) -> list[str]:
    if not bought.uses and not bought.buys:
        return [word(words, "shopping.none")]
    key = "total" if bought.per_head_minor is not None else "total-alone"
    return [
        word(
            words,
            f"shopping.{key}",
            total_minor=bought.total_minor,
            per_head_minor=bought.per_head_minor or 0,
        )
    ]


def _missing(bought: Buying, words: Words) -> list[list[sections.Cell]]:
    return [
        [strong(words.say(short.says)), words.say(short.mend)]
        for short in sorted(bought.short_of, key=lambda short: short.mild)
    ]


def _shop(at: AtShop, words: Words, say: dict[str, str]) -> Section:
    columns = [
        ("", "auto"),
        (say["plant"], "1.7fr"),
        (say["bunches"], "1fr"),
        (say["length"], "1.1fr"),
        (f">{say['price']}", "auto"),
        (say["bought"], "auto"),
        (say["paid"], "auto"),
    ]
    rows = [
        [
            TICK,
            plant_cell(buy.bunch.plant),
            word(words, "shopping.bunches", bunches=str(buy.count), stems=str(buy.bunch.stems)),
            word(words, "shopping.length", length_cm=buy.bunch.length_cm),
            words.quantity("price_minor", buy.price_minor),
            blank(BLANK_MM),
            blank(BLANK_MM),
        ]
        for buy in at.buys
    ]
    notes = [word(words, "shopping.shop-total", total_minor=at.total_minor)]
    if at.delivery_minor:
        notes.append(word(words, "shopping.delivery", delivery_minor=at.delivery_minor))
    if at.shop.minimum_minor:
        notes.append(word(words, "shopping.minimum", minimum_minor=at.shop.minimum_minor))
    title = word(words, "shopping.at-shop", shop=at.shop.name)
    return sections.table(title, columns, rows, after=" ".join(notes))


def _garden(bought: Buying, words: Words, say: dict[str, str]) -> Section:
    columns = [
        ("", "auto"),
        (say["plant"], "1.4fr"),
        (say["how-many"], "1.4fr"),
        (say["where"], "1.2fr"),
        (say["cut"], "auto"),
    ]
    rows = [
        [
            TICK,
            plant_cell(cut.branch.plant),
            word(words, "shopping.cut", count=cut.count, least_cm=cut.least_cm),
            cut.branch.name,
            blank(BLANK_MM),
        ]
        for cut in bought.from_garden
    ]
    return sections.table(word(words, "shopping.garden"), columns, rows)


def _stand_ins(wishes: Iterable[Wish], words: Words, say: dict[str, str]) -> Section:
    columns = [
        (say["wanted"], "1.2fr"),
        (say["as-good"], "1fr"),
        (say["will-do"], "1fr"),
        (say["only-if"], "1fr"),
    ]
    rows = [
        [
            [
                strong(plant_name(wish.plant)),
                quiet(words.say(Saying(f"papers.wish-role.{wish.role}"))),
            ],
            *([*_named(wish, how)] for how in HOWS),
        ]
        for wish in wishes
        if wish.stand_ins
    ]
    return sections.table(word(words, "shopping.stand-ins"), columns, rows)


def _named(wish: Wish, how: How) -> list[str]:
    return [plant_name(each.plant) for each in wish.stand_ins if each.how == how] or ["–"]


def _extra(bought: Buying, words: Words) -> list[str]:
    return said(
        words,
        (
            Saying(
                "papers.shopping.extra-stems",
                plant=plant_name(over.bunch.plant),
                count=over.count,
            )
            for over in bought.left_over
            if over.count
        ),
    )
