"""The buying and shopping list: shop by shop and garden, ranked stand-ins, blanks for what was got.

Source: the rows come from `material`; nothing is added up here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from nejime.basis.sayings import Saying, Words
from nejime.keeping.carrying import Carrying
from nejime.lesson.going import Going
from nejime.material.buying import Buying
from nejime.material.shopping import GardenRow, ShopList, Shopping, ShoppingRow
from nejime.material.supply import HOWS, How, Shop, Wish
from nejime.papers import sections
from nejime.papers.sections import TICK, Cell, Section, blank, quiet, strong
from nejime.papers.sheet import Sheet
from nejime.papers.wording import dated, fixed, plant_cell, plant_name, said, sentence, word

BLANK_MM = 24.0  # [own] room for a number written by hand


def shopping_list(
    bought: Buying,
    lists: Shopping,
    wishes: Iterable[Wish],
    words: Words,
    above: str = "",
    *,
    until: Going | None = None,
    load: Carrying | None = None,
) -> Sheet:
    """The list for one class; `until` says by when to order, `load` what there is to carry."""
    orders = {each.shop: dated(each.says, words) for each in until.orders} if until else {}
    say = fixed(words, "shopping")
    shops = {each.shop.name: each.shop for each in bought.by_shop}
    listed: list[Section] = [
        sections.text("", [_total(bought, words), *([dated(until.says, words)] if until else [])]),
        sections.points(word(words, "shopping.missing"), _missing(bought, words)),
        *(_shop(each, shops, orders, words, say) for each in lists.shops),
        _garden(lists.garden, words, say),
        _stand_ins(wishes, words, say),
        sections.points(word(words, "shopping.extra"), _extra(bought, words)),
        sections.points(word(words, "shopping.carrying"), said(words, load.says if load else ())),
    ]
    return sections.sheet("shopping", word(words, "shopping.title"), above, listed)


def _total(bought: Buying, words: Words) -> str:
    if not bought.uses and not bought.buys:
        return word(words, "shopping.none")
    key = "total" if bought.per_head_minor is not None else "total-alone"
    return word(
        words,
        f"shopping.{key}",
        total_minor=bought.total_minor,
        per_head_minor=bought.per_head_minor or 0,
    )


def _missing(bought: Buying, words: Words) -> list[Cell]:
    ranked = sorted(bought.short_of, key=lambda short: short.mild)
    return [[strong(words.say(short.says)), words.say(short.mend)] for short in ranked]


def _shop(
    at: ShopList,
    shops: Mapping[str, Shop],
    orders: Mapping[str, str],
    words: Words,
    say: dict[str, str],
) -> Section:
    columns = [
        ("", "auto"),
        (say["plant"], "1.6fr"),
        (say["bunches"], "1.2fr"),
        (f">{say['price']}", "auto"),
        (say["bought"], "auto"),
        (say["paid"], "auto"),
    ]
    notes = [word(words, "shopping.shop-total", total_minor=at.total_minor)]
    if at.delivery_minor:
        notes.append(word(words, "shopping.delivery", delivery_minor=at.delivery_minor))
    if shops[at.shop].minimum_minor:
        least = shops[at.shop].minimum_minor
        notes.append(word(words, "shopping.minimum", minimum_minor=least))
    return sections.table(
        sentence(at.shop),
        columns,
        [_row(row, words) for row in at.rows],
        says=orders.get(at.shop, ""),
        after=" ".join(notes),
    )


def _row(row: ShoppingRow, words: Words) -> list[Cell]:
    roles = tuple(Saying(f"papers.wish-role.{role}") for role in row.for_)
    return [
        TICK,
        [*plant_cell(row.plant), *([quiet(words.quantity("for", roles))] if roles else [])],
        [
            word(words, "shopping.bunches", bunches=str(row.bunches), stems=str(row.stems_each)),
            quiet(word(words, "shopping.length", length_cm=row.long_cm)),
        ],
        words.quantity("price_minor", row.price_minor),
        blank(BLANK_MM),
        blank(BLANK_MM),
    ]


def _garden(rows: Iterable[GardenRow], words: Words, say: dict[str, str]) -> Section:
    columns = [
        ("", "auto"),
        (say["plant"], "1.4fr"),
        (say["how-many"], "1.4fr"),
        (say["where"], "1.3fr"),
        (say["cut"], "auto"),
    ]
    listed: list[list[Cell]] = [
        [
            TICK,
            plant_cell(row.plant),
            word(
                words,
                f"shopping.{row.how}",
                count=row.count,
                cut_cm=row.cut_cm,
            ),
            row.place,
            blank(BLANK_MM),
        ]
        for row in rows
    ]
    return sections.table(word(words, "shopping.garden"), columns, listed)


def _stand_ins(wishes: Iterable[Wish], words: Words, say: dict[str, str]) -> Section:
    columns = [
        (say["wanted"], "1.2fr"),
        (say["as-good"], "1fr"),
        (say["will-do"], "1fr"),
        (say["only-if"], "1fr"),
    ]
    alike: dict[tuple[str, ...], list[Wish]] = {}
    for wish in wishes:
        if wish.stand_ins:
            alike.setdefault(tuple(map(str, (wish.plant, *wish.stand_ins))), []).append(wish)
    rows: list[list[Cell]] = [
        [
            [strong(plant_name(same[0].plant)), quiet(_roles(same, words))],
            *(_named(same[0], how) for how in HOWS),
        ]
        for same in alike.values()
    ]
    return sections.table(word(words, "shopping.stand-ins"), columns, rows)


def _roles(wishes: Iterable[Wish], words: Words) -> str:
    roles = dict.fromkeys(wish.role for wish in wishes)
    return words.quantity("for", tuple(Saying(f"papers.wish-role.{role}") for role in roles))


def _named(wish: Wish, how: How) -> list[str]:
    return [plant_name(each.plant) for each in wish.stand_ins if each.how == how] or ["–"]


def _extra(bought: Buying, words: Words) -> list[str]:
    over = (
        Saying("papers.shopping.extra-stems", plant=plant_name(each.bunch.plant), count=each.count)
        for each in bought.left_over
        if each.count
    )
    return said(words, over)
