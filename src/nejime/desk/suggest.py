"""Ask where the next stems could go: three placements of what is at hand, as a job with a stop."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from nejime import __version__
from nejime.basis.sayings import Saying
from nejime.composing.checks import findings
from nejime.composing.material import Material, usual_leaf
from nejime.composing.recipes import AtHand, Plan
from nejime.composing.suggesting import Suggestion, suggest
from nejime.desk.arrange import Json, Table, Tree, on_table, taken_over
from nejime.desk.settings import words_for
from nejime.desk.shelf import Shelf
from nejime.desk.small_picture import small_picture

JOB = "suggest"
LIKINGS = "likings"
MOST_LIKINGS = 30  # [own] older ones count no more
USUAL: Mapping[str, tuple[str, int]] = {  # [own] where the piece has none of a role yet
    "helper": ("", 3),
    "leaf": ("aspidistra", 3),
}
LEAF_SHARE = 0.3  # [own] of the first stem
LONGEST_SHARE = 0.95  # [practice] a helper stem is shorter than the first


def ask(shelf: Shelf, tree: Tree) -> int:
    """The number of the job. Raises `InputError` for a piece that is none."""
    on_table(tree)
    question = {"tree": dict(tree), "likings": likings(shelf), "version": __version__}
    return shelf.ask(JOB, question).id


def likings(shelf: Shelf) -> dict[str, list[Any]]:
    """What she kept of earlier suggestions, and what she did not."""
    found = shelf.all(LIKINGS)
    return found[0].content if found else {"kept": [], "rejected": []}


def like(shelf: Shelf, plan: list[Any], *, liked: bool) -> None:
    """Remembers a suggestion that was kept or not; it only orders the next three."""
    _plan(plan)
    found = shelf.only(LIKINGS, LIKINGS, {"kept": [], "rejected": []})
    side = "kept" if liked else "rejected"
    told = [*found.content[side], plan][-MOST_LIKINGS:]
    shelf.save(found.id, {**found.content, side: told}, found.version)


def _plan(told: list[Any]) -> Plan:
    tall, heart, follows, higher = told
    return Plan(tall, heart, tuple(follows), bool(higher))


def act(shelf: Shelf, question: Mapping[str, Any], tell: Any) -> Json:
    """The worker's part: three placements, the best so far with every step."""
    table = on_table(question["tree"])
    words = words_for(shelf)
    stop = False

    def progress(share: float, best: tuple[Suggestion, ...]) -> None:
        nonlocal stop
        stop = tell(share, None)

    told = question["likings"]
    found = suggest(
        table.piece,
        at_hand(table),
        table.material(),
        kept=[_plan(each) for each in told["kept"]],
        rejected=[_plan(each) for each in told["rejected"]],
        progress=progress,
        stop=lambda: stop,
    )
    return {
        "found": [_told(table, each, words) for each in found.suggestions],
        "says": words.say(_nothing(table, found.first_mend != ())),
    }


def _nothing(table: Table, mend: bool) -> Saying:
    """Why there is nothing to suggest, where there is nothing."""
    if table.piece.holder is None:
        return Saying("web.table.no-pins")
    return Saying("web.table.mend-first" if mend else "web.table.none-found")


def _told(table: Table, each: Suggestion, words: Any) -> Json:
    tree = tree_of(table, each)
    return {
        "tree": tree,
        "why": words.say(each.why),
        "svg": small_picture(tree, words),
        "plan": [each.plan.tall, each.plan.heart, list(each.plan.follows), each.plan.higher],
    }


def settled(tree: Tree) -> Json:
    """The piece with its flowers and leaves where they are best; as it was, where nothing is."""
    table = on_table(tree)
    given = [each for each in at_hand(table, usual={}) if each.role != "helper"]
    found = suggest(table.piece, given, table.material()).suggestions
    trees = [tree_of(table, each) for each in found]
    return min(trees, key=_left_over, default=dict(tree))


def _left_over(tree: Tree) -> int:
    """How much a check still finds, faults first."""
    return sum(10 if each.fault else 1 for each in findings(on_table(tree).setting()))


def at_hand(table: Table, usual: Mapping[str, tuple[str, int]] = USUAL) -> list[AtHand]:
    """The supporting stems that the piece has, as material; the usual of a role that it lacks."""
    known = table.material()
    first = table.piece.stem("first")
    found = [
        AtHand(stem.role, known[stem.id], LONGEST_SHARE * first.length_cm)
        for stem in table.stems
        if stem.role in ("helper", "heart", "leaf")
    ]
    for role, (plant_id, count) in usual.items():
        if not any(each.role == role for each in found):
            chosen = plant_id or table.made.stuff["first"].plant
            made = _material_of(table, chosen, role, known["first"])
            found += [AtHand(role, made, LONGEST_SHARE * first.length_cm)] * count  # type: ignore[arg-type]
    return found


def _material_of(table: Table, plant_id: str, role: str, like_first: Material) -> Material:
    """The material of a stem that is not there yet."""
    if role == "helper":
        return replace(like_first, thickness_mm=0.7 * like_first.thickness_mm)
    return replace(usual_leaf(LEAF_SHARE * table.piece.stem("first").length_cm), plant=plant_id)


def tree_of(table: Table, each: Suggestion) -> Json:
    """The piece's JSON with the placement of a suggestion."""
    found = taken_over(table, each.piece, each.material)
    assert found is not None
    return found


def state(shelf: Shelf, job_id: int) -> Json:
    """How far a job is, and what it found. Raises `Missing`."""
    job = shelf.job(job_id)
    ended = job.state in ("done", "failed", "stopped")
    answer = job.answer if isinstance(job.answer, dict) else {}
    return {"progress": job.progress, "done": ended, **answer}
