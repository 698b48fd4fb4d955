"""How a plant is drawn on the papers: as it grows, from a seed of its own and the stem's name.

Source: our own choice of the nearest outline; the sizes are what the trade usually sells.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from nejime.drawings.scene import USUAL_LOOKS, Kind, Look, Outline
from nejime.drawings.skeleton.chance import seed_of
from nejime.plants.plant import Plant
from nejime.plants.table import plant
from nejime.standing.masses import Body

_DRAWN: Mapping[Outline, str] = {  # [own]
    "cup": "tulip rose spray-rose peony tree-peony ranunculus anemone lisianthus balloon-flower",
    "trumpet": "trumpet-daffodil tazetta-narcissus lily easter-lily day-lily alstroemeria freesia "
    "calla amaryllis gloriosa dutch-iris japanese-iris rabbit-ear-iris bearded-iris",
    "daisy": "gerbera sunflower cosmos zinnia aster china-aster shasta-daisy black-eyed-susan "
    "coneflower feverfew lance-coreopsis japanese-anemone clematis small-chrysanthemum",
    "spike": "snapdragon stock delphinium larkspur gladiolus foxglove hyacinth grape-hyacinth "
    "liatris monkshood lily-of-the-valley sweet-pea gentian burnet celosia",
    "spray": "gypsophila statice limonium goldenrod patrinia yarrow white-laceflower rape-blossom "
    "spray-chrysanthemum spray-carnation euphorbia",
    "blossom-branch": "forsythia flowering-quince cherry plum peach magnolia flowering-dogwood "
    "cornelian-cherry thunberg-spiraea wintersweet witch-hazel crab-apple redbud winter-hazel "
    "mitsumata pussy-willow",
    "needle-branch": "pine white-pine juniper cedar hinoki yew",
    "frond": "leather-fern sword-fern asparagus-fern",
    "strap-leaf": "new-zealand-flax ti-leaf liriope",
}
OUTLINE_OF: Mapping[str, Outline] = {
    name: outline for outline, names in _DRAWN.items() for name in names.split()
}
HEAD_CM: Mapping[Outline, float] = {  # [own]
    "bare-twig": 1.5,
    "blossom-branch": 2.0,
    "leafy-branch": 4.0,
    "needle-branch": 5.0,
    "berry-branch": 1.0,
    "cup": 5.0,
    "daisy": 6.0,
    "trumpet": 7.0,
    "round": 7.0,
    "spike": 12.0,
    "spray": 8.0,
    "broad-leaf": 9.0,
    "strap-leaf": 5.0,
    "frond": 9.0,
    "grass": 3.0,
}


def look(plant_id: str, thickness_mm: float, role: str, stem_id: str = "") -> Look:
    """How a stem of this plant is drawn; its seed comes from the plant and the stem's id."""
    found = plant(plant_id)
    outline = OUTLINE_OF.get(found.id) or _usual(found)
    head = HEAD_CM[outline]
    if role == "leaf":
        head = min(head, USUAL_LOOKS["leaf"].head_cm)
    kind: Kind = next(each for each in get_args(Kind) if each == found.kind)
    seed = seed_of(found.id, stem_id)
    return Look(kind, thickness_mm, head, outline, found.id, seed)


def looks(
    plants: Mapping[str, str], bodies: Mapping[str, Body], roles: Mapping[str, str]
) -> dict[str, Look]:
    """Looks by stem id. `plants`, `bodies` and `roles` are by stem id, too."""
    return {
        stem: look(plants[stem], bodies[stem].thickness_mm, roles[stem], stem)
        for stem in roles
        if stem in plants and stem in bodies
    }


def _usual(found: Plant) -> Outline:
    """The outline of a plant that has none of its own here."""
    by_kind: Mapping[str, Outline] = {
        "flower": "round",
        "leaf": "broad-leaf",
        "grass": "grass",
        "berry": "berry-branch",
    }
    if found.kind == "branch":
        return "bare-twig" if found.stem == "bare-branch" else "leafy-branch"
    return by_kind[found.kind]
