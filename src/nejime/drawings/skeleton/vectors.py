"""Arrows in space as plain triples: what a plant's skeleton needs of them, and no more."""

from __future__ import annotations

import math

Vec = tuple[float, float, float]

X: Vec = (1.0, 0.0, 0.0)
Y: Vec = (0.0, 1.0, 0.0)
Z: Vec = (0.0, 0.0, 1.0)


def add(a: Vec, b: Vec) -> Vec:
    """Both together."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def minus(a: Vec, b: Vec) -> Vec:
    """The first without the second."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def times(a: Vec, by: float) -> Vec:
    """So many times as long."""
    return (a[0] * by, a[1] * by, a[2] * by)


def along(a: Vec, by: float, b: Vec) -> Vec:
    """From `a`, so far in the direction of `b`."""
    return (a[0] + by * b[0], a[1] + by * b[1], a[2] + by * b[2])


def dot(a: Vec, b: Vec) -> float:
    """How far one goes along the other."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec, b: Vec) -> Vec:
    """Square to both."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def unit(a: Vec, otherwise: Vec = Z) -> Vec:
    """The same direction, one long; `otherwise` where there is no direction."""
    long = math.sqrt(dot(a, a))
    return times(a, 1.0 / long) if long > 1e-9 else otherwise


def square_to(axis: Vec, wish: Vec) -> Vec:
    """Of all directions square to a unit axis, the one nearest to a wish."""
    for hope in (wish, X, Y):
        left = along(hope, -dot(hope, axis), axis)
        if dot(left, left) > 1e-8:
            return unit(left)
    return X


def turned(a: Vec, axis: Vec, deg: float) -> Vec:
    """Turned about a unit axis, by the right-hand rule."""
    c, s = math.cos(math.radians(deg)), math.sin(math.radians(deg))
    return along(along(times(a, c), s, cross(axis, a)), dot(axis, a) * (1 - c), axis)


def leaning(axis: Vec, side: Vec, deg: float) -> Vec:
    """A unit direction that leans off an axis by an angle, to a side square to it."""
    return along(times(axis, math.cos(math.radians(deg))), math.sin(math.radians(deg)), side)


def towards(a: Vec, goal: Vec, deg: float) -> Vec:
    """A unit direction, turned towards another by at most an angle."""
    between = math.degrees(math.acos(max(-1.0, min(1.0, dot(a, goal)))))
    return goal if between <= deg else leaning(a, square_to(a, goal), deg)


def mixed(a: Vec, b: Vec, share: float) -> Vec:
    """A direction between two."""
    return unit(add(times(a, 1 - share), times(b, share)), a)
