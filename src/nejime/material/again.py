"""On the morning, with the stems that are really there: who gets which, with few changes.

Model: nothing can be bought any more, so each stem wanted asks for one of the stems that are there.
First everybody keeps what was planned for them as far as it is there; then who has nothing is
served from the rest, others changing only where somebody would else go without. People come first,
then the demonstration, the film, the display and the spares.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from nejime.material.buying import Buying, Use
from nejime.material.ends import End, serves
from nejime.material.matching import NONE, Matching
from nejime.material.shortage import mending, shortage
from nejime.material.supply import GardenBranch
from nejime.material.wanted import PURPOSES, StemWanted


def again(
    wanted: Sequence[StemWanted],
    there: Sequence[GardenBranch],
    planned: Callable[[StemWanted], int | None],
) -> Buying:
    """The stems that are `there` handed out anew.

    `planned` says from which of them a stem was to come, by its place, or None. Nothing is bought.
    Raises `InputError` where a plant that somebody is short of is not in the plant table.
    """
    asked = [replace(each, count=1) for each in wanted for _ in range(each.count)]
    ends = [End(each, each.length_cm) for each in there]
    accepts = [tuple(n for n, end in enumerate(ends) if serves(end, each)) for each in asked]
    matching = Matching(accepts, [each.count for each in there])
    for purpose in PURPOSES:
        own = [number for number, each in enumerate(asked) if each.purpose == purpose]
        for number in own:
            kept = planned(asked[number])
            if kept is not None and kept in accepts[number]:
                matching.accepts[number] = (kept,)
                matching.serve(number)
        for number in own:
            every = accepts[number]
            held = matching.held[number]
            best_first = sorted(every, key=lambda at: (at != held, _level(asked[number], ends[at])))
            matching.accepts[number] = tuple(best_first)
        for number in own:
            if matching.held[number] == NONE:
                matching.serve(number)
    counted = [0] * len(ends)
    uses = []
    for number, at in enumerate(matching.held):
        if at != NONE:
            counted[at] += 1
            uses.append(Use(asked[number], ends[at], counted[at]))
    short = tuple(
        shortage(each, there) for each, at in zip(asked, matching.held, strict=True) if at == NONE
    )
    return Buying(
        by_shop=(),
        uses=tuple(uses),
        from_garden=(),
        short_of=short,
        left_over=(),
        heads=len({each.who for each in wanted if each.purpose == "person"}),
        mended_by=mending(short),
    )


def _level(wanted: StemWanted, end: End) -> tuple[int, float]:
    """How gladly, and then how long: the shortest that serves."""
    return wanted.level(end.plant), end.length_cm
