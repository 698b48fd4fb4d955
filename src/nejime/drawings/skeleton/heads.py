"""A flower head from its row in the table: whorls of petals, stamens, heart, calyx.

Model: petals stand in whorls around the head's axis, or in one spiral of golden angles from the
outside inwards. `open` is the angle between a petal and the axis at its foot when the flower is
fully open; a bud's petals lie along the axis. Opening makes every angle larger and no petal
shorter.
Frame: x along the axis of the head, away from its stalk.
Source: the golden spiral [vogel1979]; angles and sizes are our own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from nejime.drawings.skeleton.chance import Chance, seed_of
from nejime.drawings.skeleton.organs import (
    HERE,
    Body,
    Frame,
    Organ,
    Part,
    Thread,
    frame,
    seated,
    sized,
)
from nejime.drawings.skeleton.surface import FUNNEL, Blade
from nejime.drawings.skeleton.table import head_row
from nejime.drawings.skeleton.vectors import X, Y, Z, along, times, turned, unit

GOLDEN_DEG = 360 * (1 - 2 / (1 + math.sqrt(5)))  # [vogel1979] 137.508
SHUT = 0.12  # [own] share of the full angle at which the petals of a bud stand
SMALL = 0.72  # [own] length of a bud's petals over those of the open flower
SIZES = 9  # [own] of the petals of a head that has very many
STAGES = 10  # [own] openings that are told apart
STAMENS_FROM = 3  # [own] stage, in tenths, from which stamens show
WHOLE = (-1.0, 1.0)  # of a funnel: all of it
HALVES = ((-0.5, 0.5), (0.5, 1.0), (-1.0, -0.5))  # of a funnel: its back, and its two front parts


@cache
def head(name: str, opening: int = STAGES) -> Organ:
    """The flower head of this name, opened so many tenths."""
    row = head_row(name)
    stage = opening / STAGES
    chance = Chance(seed_of("head", name))
    parts: list[Part] = []
    for number, whorl in enumerate(row.get("whorls", ())):
        parts += _whorl(whorl, number, stage, chance)
    parts += [_body(body) for body in row.get("bodies", ())]
    for funnel in row.get("funnels", ()):
        parts += _funnel(funnel, stage)
    if "stamens" in row and opening > STAMENS_FROM:
        parts += _stamens(row["stamens"], chance)
    if "florets" in row:
        parts += _florets(row["florets"], opening)
    size = float(row.get("size", 1.0))
    reach = float(row.get("reach", _reach(row))) * size
    return Organ(f"{name}-{opening}", tuple(sized(part, size) for part in parts), reach, "flower")


def _reach(row: Mapping[str, Any]) -> float:
    longs = [_ends(whorl["long"])[0] for whorl in row.get("whorls", ())]
    longs += [float(body["long"]) for body in row.get("bodies", ())]
    longs += [float(row["florets"]["high"])] if "florets" in row else []
    longs += [float(funnel["long"]) for funnel in row.get("funnels", ())]
    longs += [float(row["stamens"]["long"])] if "stamens" in row else []
    return max(longs)


def _ends(value: Any) -> tuple[float, float]:
    """Outer and inner value of a whorl."""
    if isinstance(value, list):
        return float(value[0]), float(value[1])
    return float(value), float(value)


def opened(full_deg: float, stage: float, curl_deg: float = 0.0) -> float:
    """The angle of a petal at a stage of opening, 0 to 1.

    Petals that curl inwards make a round bud: each leans out by half of what it comes back.
    """
    bud_deg = max(SHUT * full_deg, min(full_deg, -curl_deg / 2))
    return bud_deg + (full_deg - bud_deg) * stage


def _whorl(row: Mapping[str, Any], number: int, stage: float, chance: Chance) -> Iterator[Part]:
    count, spiral = int(row["n"]), bool(row.get("spiral"))
    turn = float(row.get("turn", number * 180 / count))
    loose = 0.0 if row.get("steady") else 1.0
    for index in range(count):
        share = index / max(1, count - 1) if spiral else 0.0
        step = round(share * SIZES) / SIZES  # petals come in so many sizes, not each in its own

        def at(key: str, usual: float = 0.0, share: float = share) -> float:
            outer, inner = _ends(row.get(key, usual))
            return outer + (inner - outer) * share

        around = (index * GOLDEN_DEG if spiral else index * 360 / count) + turn
        around += loose * chance.between(-4, 4)
        curl = at("curl")
        angle = opened(at("open") + loose * chance.between(-5, 5), stage, curl)
        blade = Blade(
            at("long", share=step),
            at("wide", share=step),
            row["shape"],
            round(at("curl", share=step) * (stage if curl > 0 else 1.0), 1),
            float(row.get("cup", 0.0)),
            float(row.get("wave", 0.0)),
        )
        grown = (SMALL + (1 - SMALL) * stage) * chance.near(1.0, 0.05 * loose)
        seat = petal_frame(angle, around, at("rise"), at("off"))
        yield Part(blade, row.get("tissue", "petal"), seat, grown, row.get("veins", ""))


def petal_frame(open_deg: float, around_deg: float, rise_cm: float, off_cm: float) -> Frame:
    """Where a petal sits: leaning off the axis by `open_deg`, its inner face to the axis."""
    out = turned(Y, X, around_deg)
    c, s = math.cos(math.radians(open_deg)), math.sin(math.radians(open_deg))
    foot = along(times(X, rise_cm), off_cm, out)
    return frame(foot, along(times(X, c), s, out), along(times(X, s), -c, out))


def _body(row: Mapping[str, Any]) -> Part:
    body = Body(
        float(row["long"]), float(row["wide"]), float(row.get("point", 0.0)), row.get("mark", "")
    )
    at = times(X, float(row.get("at", 0.0)))
    return Part(body, row.get("tissue", "petal"), Frame(at, X, Z))


def _funnel(row: Mapping[str, Any], stage: float) -> Iterator[Part]:
    """A trumpet in one, a spathe in three: the half behind its axis shows its inside."""
    for low, high in HALVES if "bay" in row else (WHOLE,):
        blade = Blade(
            float(row["long"]),
            float(row["wide"]) * (0.55 + 0.45 * stage),
            FUNNEL,
            float(row.get("curl", 0.0)) * stage,
            float(row.get("foot", 0.4)),
            float(row.get("wave", 0.0)),
            bay=float(row.get("bay", 0.0)),
            low=low,
            high=high,
        )
        # The low side of a spathe is turned to the viewer.
        at = HERE._replace(z=times(Z, -1.0))
        yield Part(blade, row.get("tissue", "petal"), at, veins=row.get("veins", ""))


def _stamens(row: Mapping[str, Any], chance: Chance) -> Iterator[Part]:
    count, rise = int(row["n"]), times(X, float(row.get("rise", 0.0)))
    many = count > 8
    for index in range(count):
        lean = float(row["spread"]) * (math.sqrt((index + 0.7) / count) if many else 1.0)
        out = turned(Y, X, index * (GOLDEN_DEG if many else 360 / count) + 20)
        long = chance.near(float(row["long"]), 0.12)
        c, s = math.cos(math.radians(lean)), math.sin(math.radians(lean))
        tip = along(along(rise, long * c, X), long * s, out)
        thread = Thread((rise, tip), 0.02, float(row.get("knob", 0.1)))
        yield Part(thread, row.get("tissue", "dark"))


def _florets(row: Mapping[str, Any], opening: int) -> Iterator[Part]:
    """Small heads over a dome, or along a cone that gets narrower to its end."""
    small = head(row["of"], opening)
    count, half, high = int(row["n"]), float(row["wide"]) / 2, float(row["high"])
    if row["form"] == "cone":
        yield Part(Thread(((0.0, 0.0, 0.0), (0.96 * high, 0.0, 0.0)), 0.06), "dark")
    for index in range(count):
        share = (index + 0.5) / count
        out = turned(Y, X, index * GOLDEN_DEG)
        if row["form"] == "dome":
            polar = math.acos(1 - 1.25 * (1 - share))
            c, s = math.cos(polar), math.sin(polar)
            at = along(times(X, high * (0.35 + 0.65 * c)), half * s, out)
            way, grown = along(times(X, c), s, out), 1.0
        else:
            share = 1 - (1 - share) ** 0.75  # as many to an area at its foot as at its end
            at = along(times(X, high * share), half * (1 - share) ** 0.7, out)
            way = unit(along(times(X, 0.25 + 0.75 * share), 1 - 0.8 * share, out))
            grown = 1 - 0.45 * share
        seat = frame(at, way, turned(Y, X, index * 71.0))
        for part in small.parts:
            yield seated(part, seat, grown, index + 1)
