"""The one least-squares problem: what is unknown, and how far the marks are from where they belong.

Unknowns
    of each view: a turn of its camera (3), where the camera would stand if its focal length were as
    told (3, cm), the logarithm of its focal length over that; of all: radial distortion, the
    logarithm of the rim's size over the one told, the rim's height; of the card on the table: its
    middle (2) and its turn; of each stem that two views show: foot (3) and end (3).
Residuals, each over its spread
    rim marks: distance from the rim's picture (a circle: Sampson's; a rectangle: at its corners);
    the card's corners; stems' ends and feet; what is known beforehand of focal length, distortion,
    rim, feet and straight lengths.
Held fixed
    x of the first view's camera where the rim is round: it decides where bearing 0 is; so is that
    of a later view which shows nothing that another shows, whose turn stays unknown; the rim's
    height where no card lies on the table, since nothing else tells it from the camera's.
Shapes: vectors of unknowns (..., n); leading axes are trials.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from nejime.photo.asked import Rim
from nejime.photo.camera import Floats, imaged, straightened
from nejime.photo.turning import about_upright, turned

OF_VIEW = 7
OF_ALL = 3
OF_CARD = 3
OF_STEM = 6


@dataclass(frozen=True, slots=True)
class Seen:
    """One view in numbers: pixels are counted from the picture's middle.

    `rim` (n, 2); `card` (m, 2) beside `card_cm` (m, 2); `base`, `tip`, `mid` (stems, 2), NaN where
    a stem was not marked. `click_px`: the spread of a mark; `feet_px`: that of a foot's mark.
    """

    rotation: Floats
    focal_px: float
    focal_spread: float
    rim: Floats
    card: Floats
    card_cm: Floats
    base: Floats
    tip: Floats
    mid: Floats
    click_px: float
    feet_px: float
    card_px: float


@dataclass(frozen=True, slots=True)
class State:
    """Unknowns unfolded, each with the trials' axes first.

    Of each view: `rotation` (views, 3, 3), `centre` (views, 3), `focal` (views,) in pixels; of all:
    `k1`, `scale` and height `rim_cm` of the rim; `card` (3,): its middle and its turn; of each stem
    that two views show: `base` and `tip` (stems, 3).
    """

    rotation: Floats
    centre: Floats
    focal: Floats
    k1: Floats
    scale: Floats
    rim_cm: Floats
    card: Floats
    base: Floats
    tip: Floats


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything that the fit needs to know.

    `feet`, `feet_spread` (stems, 3): where feet are beforehand. `length`, `length_spread` (stems,):
    straight lengths, NaN where not known. `corners` (4, 2): a rectangle's, in the order marked.
    """

    rim: Rim
    views: tuple[Seen, ...]
    feet: Floats
    feet_spread: Floats
    length: Floats
    length_spread: float
    k1_spread: float
    rim_spread: float
    height_spread_cm: float
    corners: Floats

    @property
    def stems(self) -> int:
        """How many stems two views show."""
        return len(self.feet)

    @property
    def has_card(self) -> bool:
        """Whether the card was found in any view."""
        return any(len(view.card) for view in self.views)

    @property
    def unknowns(self) -> int:
        """Length of the vector of unknowns."""
        card = OF_CARD if self.has_card else 0
        return OF_VIEW * len(self.views) + OF_ALL + card + OF_STEM * self.stems

    def is_tied(self, number: int) -> bool:
        """Whether the turn of a view's camera about a round rim is known from the first view's.

        A stem's end or the card, shown in another view too, tells it; the first view's own turn is
        where bearing 0 is.
        """
        shown = [view for at, view in enumerate(self.views) if at != number]
        here = self.views[number]
        ends = any(np.any(np.isfinite(here.tip + view.tip)) for view in shown)
        card = len(here.card) > 0 and any(len(view.card) for view in shown)
        return number > 0 and (ends or card)

    def free(self) -> npt.NDArray[np.intp]:
        """Which unknowns are looked for, as numbers of their places."""
        looked_for = np.ones(self.unknowns, bool)
        if self.rim.shape == "round":
            for number in range(len(self.views)):
                looked_for[OF_VIEW * number + 3] = self.is_tied(number)
        if not self.has_card:
            looked_for[OF_VIEW * len(self.views) + 2] = False
        return np.flatnonzero(looked_for)

    def with_feet_px(self, times: float) -> Problem:
        """The same problem with feet marked less surely."""
        views = tuple(replace(view, feet_px=view.feet_px * times) for view in self.views)
        return replace(self, views=views)

    def folded(self, centres: Floats, card: Floats, stems: Floats) -> Floats:
        """Unknowns (n,) to begin from, which `unfold` takes apart again: nothing is turned, bent or
        scaled yet. `centres` (views, 3); `card` (3,), empty without one; `stems` (stems, 2, 3)."""
        of_views = np.zeros((len(self.views), OF_VIEW))
        of_views[:, 3:6] = centres
        return np.concatenate([of_views.ravel(), np.zeros(OF_ALL), card, stems.ravel()])

    def unfold(self, unknown: Floats) -> State:
        """The unknowns (..., n) by name."""
        count = len(self.views)
        of_views = unknown[..., : OF_VIEW * count]
        of_views = of_views.reshape(*unknown.shape[:-1], count, OF_VIEW)
        at = OF_VIEW * count
        k1, scale, rise = (unknown[..., at + each] for each in range(OF_ALL))
        at += OF_ALL
        card = unknown[..., at : at + OF_CARD] if self.has_card else unknown[..., at:at]
        at += card.shape[-1]
        stems = unknown[..., at:].reshape(*unknown.shape[:-1], self.stems, 2, 3)
        start = np.stack([view.rotation for view in self.views])
        focal = np.array([view.focal_px for view in self.views])
        middle = np.array([0.0, 0.0, self.rim.height_cm])
        longer = np.exp(of_views[..., 6:])  # a longer lens sees the same rim from farther away
        return State(
            rotation=turned(of_views[..., :3]) @ start,
            centre=middle + longer * (of_views[..., 3:6] - middle),
            focal=focal * longer[..., 0],
            k1=k1,
            scale=np.exp(scale),
            rim_cm=self.rim.height_cm + rise,
            card=card,
            base=stems[..., 0, :],
            tip=stems[..., 1, :],
        )

    def residuals(self, unknown: Floats) -> Floats:
        """All residuals (..., m) of unknowns (..., n)."""
        state = self.unfold(unknown)
        parts = [self._known(state, unknown)]
        for number, view in enumerate(self.views):
            parts.append(self._rim(state, number, view))
            if len(view.card):
                parts.append(self._card(state, number, view))
            parts.extend(self._stems(state, number, view))
        return np.concatenate(parts, axis=-1)

    def foot_misfits(self, unknown: Floats) -> Floats:
        """How far the feet's marks are from the feet, over their spread."""
        state = self.unfold(unknown)
        found = [self._stems(state, number, view)[0] for number, view in enumerate(self.views)]
        return np.concatenate(found, axis=-1)

    def rim_misfits(self, unknown: Floats, number: int) -> Floats:
        """How far one view's rim marks are from the rim, over their spread."""
        return self._rim(self.unfold(unknown), number, self.views[number])

    def _known(self, state: State, unknown: Floats) -> Floats:
        """What is known beforehand."""
        spreads = np.array([view.focal_spread for view in self.views])
        told = np.array([view.focal_px for view in self.views])
        parts = [
            np.log(state.focal / told) / spreads,
            state.k1[..., None] / self.k1_spread,
            np.log(state.scale)[..., None] / self.rim_spread,
            ((state.base - self.feet) / self.feet_spread).reshape(*unknown.shape[:-1], -1),
        ]
        if self.has_card:
            rise = state.rim_cm - self.rim.height_cm
            parts.append(rise[..., None] / self.height_spread_cm)
        measured = np.flatnonzero(np.isfinite(self.length))
        if len(measured):
            line = (state.tip - state.base)[..., measured, :]
            gap = np.linalg.norm(line, axis=-1) - self.length[measured]
            parts.append(gap / self.length_spread)
        return np.concatenate(parts, axis=-1)

    def _rim(self, state: State, number: int, view: Seen) -> Floats:
        if self.rim.shape == "rectangle":
            flat = self.corners * state.scale[..., None, None]
            high = np.broadcast_to(state.rim_cm[..., None, None], (*flat.shape[:-1], 1))
            seen = projected(state, number, np.concatenate([flat, high], axis=-1))
            return _gaps(seen - view.rim, view.click_px)
        return self._circle(state, number, view)

    def _circle(self, state: State, number: int, view: Seen) -> Floats:
        """Sampson's distance of marks from the picture of the rim.

        The marks' rays meet the rim's plane at q; |q|² - r² over its slope in the picture is the
        distance in pixels to first order.
        """
        focal, k1 = state.focal[..., number, None, None], state.k1[..., None, None]
        flat = straightened(view.rim, focal, k1)
        rotation, centre = state.rotation[..., number, :, :], state.centre[..., number, :]
        below = np.zeros_like(centre)
        below[..., 2] = state.rim_cm
        to_picture = rotation.copy()
        to_picture[..., :, 2] = np.einsum("...ij,...j->...i", rotation, below - centre)
        back = np.linalg.inv(to_picture)
        ray = np.concatenate([flat, np.ones((*flat.shape[:-1], 1))], axis=-1)
        across = np.einsum("...ij,...nj->...ni", back, ray)
        depth = across[..., 2]
        q = across[..., :2] / depth[..., None]
        steps = (
            back[..., None, :2, axis] - q * back[..., None, 2:, axis] for axis in (0, 1)
        )  # of q, when the ray is moved by one over its depth
        slope = np.stack([2.0 * (np.sum(q * step, axis=-1) / depth) for step in steps], axis=-1)
        steep = np.linalg.norm(slope, axis=-1) / focal[..., 0]
        radius = state.scale[..., None] * self.rim.width_cm / 2.0
        gaps: Floats = (np.sum(q**2, axis=-1) - radius**2) / (steep * view.click_px)
        return gaps

    def _card(self, state: State, number: int, view: Seen) -> Floats:
        turn = about_upright(state.card[..., 2])[..., :2, :2]
        flat = view.card_cm @ np.swapaxes(turn, -1, -2) + state.card[..., None, :2]
        points = np.concatenate([flat, np.zeros((*flat.shape[:-1], 1))], axis=-1)
        return _gaps(projected(state, number, points) - view.card, view.card_px)

    def _stems(self, state: State, number: int, view: Seen) -> tuple[Floats, Floats]:
        """Residuals of the feet that were marked, and of the ends."""
        found = []
        for points, marks, spread in (
            (state.base, view.base, view.feet_px),
            (state.tip, view.tip, view.click_px),
        ):
            marked = np.flatnonzero(np.isfinite(marks[:, 0]))
            seen = projected(state, number, points[..., marked, :])
            found.append(_gaps(seen - marks[marked], spread))
        return found[0], found[1]


def projected(state: State, number: int, points: Floats) -> Floats:
    """Pixels from the middle (..., n, 2) of points (..., n, 3) in one view."""
    steps = points - state.centre[..., number, None, :]
    seen = steps @ np.swapaxes(state.rotation[..., number, :, :], -1, -2)
    return imaged(seen, state.focal[..., number, None, None], state.k1[..., None, None])


def _gaps(gaps: Floats, spread: float) -> Floats:
    flat: Floats = (gaps / spread).reshape(*gaps.shape[:-2], -1)
    return flat
