"""Where the next stems could go: three clearly different placements of the material at hand.

Model: for each of three plans a few chains start at random in the plan's boxes. One stem at a time
is moved to the best of several proposals, with steps that shrink from sweep to sweep; the later
plans keep away from the ends found before. What comes out is checked like any piece. The seed is
an argument and is kept in the result: equal questions have equal answers, on every machine.
Source: coordinate descent with random proposals, compared with other ways of searching when the
method was chosen; its numbers are ours.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from nejime.basis.angles import Point
from nejime.basis.sayings import Saying
from nejime.composing.checks import Finding, findings, rounded
from nejime.composing.cost import Cost, Stock, stock
from nejime.composing.lines import Array
from nejime.composing.matching import Ends, matched_distance
from nejime.composing.material import Material, with_usual
from nejime.composing.moves import set_stem
from nejime.composing.recipes import PLANS, AtHand, Boxes, Plan, boxes
from nejime.composing.seeing import Seat
from nejime.composing.setting import Setting, setting
from nejime.composing.whole import open_water, pins_hidden
from nejime.forms.stems import Piece, Stem

CLEARLY = 0.25  # [own] of the first stem: the mean way between matched ends
HIDDEN = 0.85  # [own] share of the pins hidden from the worst of four eyes
MOST_LEAVES = 4  # [own] more look like a cabbage
MOST_KINDS = 3  # [practice] kinds of plant for a beginner
CHAINS, PROPOSALS, STARTS = 4, 14, 6  # [own]
SWEEPS = 6  # [own]
STEP, SHRINK = 0.35, 0.6  # [own] of a box; from sweep to sweep
FRESH = 0.25  # [own] share of proposals anywhere in the box, in the first half of the sweeps
MOVED = 0.6  # [own] share of the numbers that a proposal changes
_IDS = {"helper": "sub", "heart": "heart", "leaf": "leaf"}


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One placement: the piece with its new stems and their material (leaves with their droop).

    `findings` is what a check still says of it. `plan` is what makes it different.
    """

    piece: Piece
    material: Mapping[str, Material]
    plan: Plan
    findings: tuple[Finding, ...]
    why: Saying
    cost: float


@dataclass(frozen=True, slots=True)
class Suggestions:
    """At most three suggestions, the likeliest first, and why there are fewer. `first_mend`: faults
    of the main stems alone, for which nothing is suggested. `left_out`: kinds of plant beyond
    `MOST_KINDS`. `whole` is False where it was stopped."""

    suggestions: tuple[Suggestion, ...]
    seed: int
    sweeps: int
    whole: bool
    reason: Saying | None = None
    first_mend: tuple[Finding, ...] = ()
    left_out: tuple[str, ...] = ()


Progress = Callable[[float, tuple[Suggestion, ...]], None]
Stop = Callable[[], bool]


def suggest(
    piece: Piece,
    at_hand: Sequence[AtHand],
    material: Mapping[str, Material] | None = None,
    *,
    seed: int = 0,
    sweeps: int = SWEEPS,
    seat: Seat | None = None,
    allow: frozenset[str] = frozenset(),
    kept: Sequence[Plan] = (),
    rejected: Sequence[Plan] = (),
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> Suggestions:
    """Three clearly different placements of the material at hand about the three main stems.

    Stems of the piece other than the main ones are left out of it. `kept` and `rejected`: plans of
    earlier suggestions; they only order the three. `progress` is told the share done and the best
    so far after each sweep; `stop` is asked as often. The result is empty, with its reason, in a
    tall vase and where the main stems alone have a fault.
    """
    bare = replace(piece, stems=piece.main)
    here = setting(bare, with_usual(bare, material), seat=seat, allow=allow)
    wrong = tuple(f for f in findings(here) if f.fault and f.code in ("tips", "rim", "in-water"))
    items, left_out = _usable(here, at_hand)
    reason = _nothing(piece, items, wrong)
    if reason is not None:
        return Suggestions((), seed, sweeps, True, reason, wrong, left_out)
    rng = np.random.default_rng(seed)
    chosen: list[Suggestion] = []
    whole = True
    for number, plan in enumerate(PLANS):

        def tell(share: float, best: Suggestion, number: int = number) -> None:
            if progress is not None:
                progress((number + share) / len(PLANS), (*chosen, best))

        far = tuple(_ends(each) for each in chosen)
        best, finished = _one(here, items, plan, rng, sweeps, far, tell, stop)
        if best is not None:
            chosen.append(best)
        if not finished:
            whole = False
            break
    ordered = tuple(sorted(chosen, key=lambda s: (-_liked(s.plan, kept, rejected), s.cost)))
    return Suggestions(ordered, seed, sweeps, whole, _fewer(len(ordered), whole), (), left_out)


def _nothing(piece: Piece, items: Sequence[AtHand], wrong: Sequence[Finding]) -> Saying | None:
    """Why nothing can be suggested for a piece; None where something can."""
    if piece.holder is None:
        return Saying("composing.none.no-pins")
    if wrong:
        return Saying("composing.none.mend-first", fault=wrong[0].says)
    return None if items else Saying("composing.none.nothing-at-hand")


def _fewer(count: int, whole: bool) -> Saying | None:
    """Why there are fewer suggestions than plans."""
    if count == len(PLANS):
        return None
    found = "some" if count else "none"
    return Saying(f"composing.none.{found}" if whole else "composing.none.stopped", count=count)


def _liked(plan: Plan, kept: Sequence[Plan], rejected: Sequence[Plan]) -> int:
    """How many traits a plan shares with what was kept, less those it shares with the rest."""

    def shares(other: Plan) -> int:
        return sum(one == two for one, two in zip(plan, other, strict=True))

    return sum(map(shares, kept)) - sum(map(shares, rejected))


def _usable(here: Setting, at_hand: Sequence[AtHand]) -> tuple[tuple[AtHand, ...], tuple[str, ...]]:
    """What is used of the material at hand: few leaves, few kinds; and the kinds left out."""
    kinds = list(dict.fromkeys(each.plant for each in here.made_of if each.plant))
    for item in at_hand:
        if item.material.plant not in kinds and len(kinds) < MOST_KINDS:
            kinds.append(item.material.plant)
    # Leaves at the foot are no kind of their own for this count: every piece has them.
    usable = [i for i in at_hand if i.material.plant in kinds or i.role == "leaf"]
    leaves = [i for i in usable if i.role == "leaf"][:MOST_LEAVES]
    ordered = [i for role in ("helper", "heart") for i in usable if i.role == role]
    left = {i.material.plant for i in at_hand if i not in usable}
    return tuple(ordered + leaves), tuple(sorted(left))


def _ends(made: Suggestion) -> Ends:
    """The ends of the helper stems and the flowers at the heart."""
    chosen = [stem for stem in made.piece.stems if stem.role in ("helper", "heart")]
    at = np.array([stem.end for stem in chosen], dtype=float).reshape(-1, 3)
    return Ends(at, tuple(made.material[stem.id].plant for stem in chosen))


def difference(one: Suggestion, other: Suggestion) -> float:
    """The mean way between matched ends of two suggestions, over the first stem's length."""
    first = one.piece.stem("first").length_cm
    return matched_distance(_ends(one), _ends(other)) / first


def _one(
    here: Setting,
    items: tuple[AtHand, ...],
    plan: Plan,
    rng: np.random.Generator,
    sweeps: int,
    far: tuple[Ends, ...],
    tell: Callable[[float, Suggestion], None],
    stop: Stop | None,
) -> tuple[Suggestion | None, bool]:
    """The best of one plan that passes and is clearly different; whether it was finished."""
    cost = Cost(here, stock(items), far)
    found = [boxes(here.piece, items, plan, shift) for shift in range(CHAINS)]
    low, high = np.stack([b.low for b in found]), np.stack([b.high for b in found])
    leader_cm = np.array([[here.piece.stem(s).length_cm for s in b.leaders] for b in found])
    state = _start(cost, low, high, leader_cm, rng)
    finished = True
    for sweep in range(sweeps):
        if stop is not None and stop():
            finished = False
            break
        cost.pair_up(state, leader_cm)
        for k in rng.permutation(len(items)):
            _step(cost, int(k), state, low, high, leader_cm, rng, sweep, sweeps)
        totals = _totals(cost, state, leader_cm)
        best = int(np.argmin(totals))
        tell((sweep + 1) / sweeps, _made(here, cost.have, state[best], found[best], plan, 0.0))
    totals = _totals(cost, state, leader_cm)
    made = [
        _made(here, cost.have, state[at], found[at], plan, float(totals[at]), here)
        for at in range(CHAINS)
    ]
    passing = [each for each in made if _passes(here, each, far)]
    ranked = sorted(passing, key=lambda each: (_left_over(each), each.cost))
    return (ranked[0] if ranked else None), finished


def _left_over(made: Suggestion) -> float:
    return sum(each.weight for each in made.findings if not each.quiet)


def _passes(here: Setting, made: Suggestion, far: tuple[Ends, ...]) -> bool:
    """No fault, pins hidden, clearly different from what was found before."""
    if any(each.fault for each in made.findings):
        return False
    look = setting(made.piece, made.material, seat=here.seat, allow=here.allow)
    if "open-holder" not in here.allow and pins_hidden(look)[0] < HIDDEN:
        return False
    ends = _ends(made)
    return all(matched_distance(ends, each) >= CLEARLY * here.main_cm for each in far)


def _start(
    cost: Cost, low: Array, high: Array, leader_cm: Array, rng: np.random.Generator
) -> Array:
    """The best of a few random starts of each chain: (c, s, 6)."""
    tries = low + (high - low) * rng.random((STARTS, *low.shape))
    totals = np.stack([_totals(cost, each, leader_cm) for each in tries])
    return np.asarray(tries[np.argmin(totals, axis=0), np.arange(len(low))])


def _totals(cost: Cost, state: Array, leader_cm: Array) -> Array:
    """The cost of what stands, each chain's stems added up: (c,)."""
    total = np.zeros(len(state))
    for k in range(state.shape[1]):
        total += cost.of(k, state[:, [k]], state, leader_cm)[:, 0]
    return total


def _step(
    cost: Cost,
    k: int,
    state: Array,
    low: Array,
    high: Array,
    leader_cm: Array,
    rng: np.random.Generator,
    sweep: int,
    sweeps: int,
) -> None:
    """Stem k of every chain to the best of its proposals, of which the present place is one."""
    chains = len(state)
    fresh = int(PROPOSALS * FRESH) if sweep < sweeps // 2 else 1
    span = (high - low)[:, None, k]
    shape = (chains, PROPOSALS, span.shape[-1])
    near = STEP * SHRINK**sweep * rng.standard_normal(shape) * (rng.random(shape) < MOVED)
    proposals = state[:, None, k] + span * near
    proposals = np.clip(proposals, low[:, None, k], high[:, None, k])
    proposals[:, :fresh] = low[:, None, k] + span * rng.random(shape)[:, :fresh]
    proposals[:, -1] = state[:, k]
    value = cost.of(k, proposals, state, leader_cm)
    state[:, k] = proposals[np.arange(chains), np.argmin(value, axis=1)]


def _made(
    here: Setting,
    have: Stock,
    numbers: Array,
    box: Boxes,
    plan: Plan,
    cost: float,
    check: Setting | None = None,
) -> Suggestion:
    """The piece that a chain's numbers (s, 6) mean; checked where `check` is given."""
    piece = here.piece
    material = dict(here.material)
    added: list[Stem] = []
    count = {"helper": 0, "heart": 0, "leaf": 0}
    maker = Cost(here, have, ())
    for at, item in enumerate(have.items):
        count[item.role] += 1
        stem_id = f"{_IDS[item.role]}-{count[item.role]}"
        leader = box.leaders[at]
        x = numbers[at]
        length = float(maker.length_cm(x, np.array(at), np.asarray(piece.stem(leader).length_cm)))
        like = replace(piece.stem(leader), id=stem_id, role=item.role, label=None, leader=leader)
        start = Point(*(float(each) for each in maker.start_cm(x)))
        added.append(set_stem(piece, like, length, float(x[1]), float(x[2]) % 360.0, start))
        droop = float(x[5]) if item.role == "leaf" else item.material.droop_deg
        material[stem_id] = replace(item.material, droop_deg=droop)
    full = replace(piece, stems=piece.stems + tuple(added))
    wrong: tuple[Finding, ...] = ()
    water = 1.0
    if check is not None:
        look = setting(full, material, seat=here.seat, allow=here.allow)
        wrong, water = findings(look), open_water(look)
    return Suggestion(full, material, plan, wrong, _why(piece, plan, added, water), cost)


def _why(piece: Piece, plan: Plan, added: list[Stem], water: float) -> Saying:
    """Why this: where the tall stem goes, where the flower looks, how much water stays open."""
    swap = {"left": "right", "right": "left"} if piece.opens == "left" else {}
    tall = swap.get(plan.tall, plan.tall)
    hearts = [stem for stem in added if stem.role == "heart"]
    helpers = [stem for stem in added if stem.role == "helper"]
    parts = []
    if helpers:
        parts.append(Saying(f"composing.why.tall-{tall}"))
    if hearts:
        right = hearts[0].end.x_cm > hearts[0].start.x_cm
        parts.append(Saying(f"composing.why.heart-{'right' if right else 'left'}"))
    parts.append(Saying("composing.why.water", share_percent=rounded(water)))
    return Saying("composing.why.all", parts=tuple(parts))
