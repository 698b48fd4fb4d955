"""Go or cancel: until when a class can be called off and nothing has been ordered or bought.

Model: what is fetched from a shop on its day must be ordered as many days before as the shop wants
to know of it; a shop that wants no notice is paid on the day of the visit. Orders are taken on any
day. The day before the first order or purchase is the last on which nothing has been spent; what
grows in the garden costs nothing. A shop that is visited twice counts from its first visit.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nejime.basis.sayings import Saying
from nejime.keeping.preparing import Task
from nejime.material.supply import Shop


@dataclass(frozen=True, slots=True)
class OrderDay:
    """When a shop is visited, and by when it must know: the same day where it wants no notice."""

    shop: str
    notice_days: int
    buy_on: dt.date

    @property
    def order_on(self) -> dt.date:
        """The day on which money is first bound."""
        return self.buy_on - dt.timedelta(days=self.notice_days)

    @property
    def says(self) -> Saying:
        """The days as a sentence."""
        if not self.notice_days:
            return Saying("lesson.going.fetch", shop=self.shop, buy_on=self.buy_on)
        return Saying(
            "lesson.going.order",
            shop=self.shop,
            order_on=self.order_on,
            buy_on=self.buy_on,
            count=self.notice_days,
        )


@dataclass(frozen=True, slots=True)
class Going:
    """The last day on which a class costs nothing, how many people are down for it, and why then.

    `orders` has one entry a shop, in the order in which they come; never empty. `over`: that day
    has passed.
    """

    people: int
    orders: tuple[OrderDay, ...]
    over: bool

    @property
    def first(self) -> dt.date:
        """The day of the first order or purchase."""
        return self.orders[0].order_on

    @property
    def last(self) -> dt.date:
        """The last day on which nothing has been ordered or bought."""
        return self.first - dt.timedelta(days=1)

    @property
    def says(self) -> Saying:
        """The last day, or that it is over."""
        if self.over:
            return Saying("lesson.going.over", first=self.first)
        return Saying("lesson.going.until", last=self.last, count=self.people)


def going(
    tasks: Iterable[Task], shops: Sequence[Shop], people: int, today: dt.date
) -> Going | None:
    """Until when a class can be called off at no cost; None where nothing is bought.

    `tasks`: what is done before it, shopping among it; `shops`: where it is bought.
    """
    visits: dict[str, dt.date] = {}
    for task in tasks:
        if task.kind == "buy":
            visits[task.place] = min(visits.get(task.place, dt.date.max), task.begins.date())
    notice = {shop.name: shop.notice_days for shop in shops}
    orders = [OrderDay(name, notice.get(name, 0), day) for name, day in visits.items()]
    orders.sort(key=lambda each: (each.order_on, each.shop))
    if not orders:
        return None
    return Going(people, tuple(orders), over=today >= orders[0].order_on)
