"""Results as plain dictionaries, for `--json` and for `plan.json`.

Units are in the names; bearings are in the house frame (0 away from the viewer, clockwise).
"""

from __future__ import annotations

import math
from typing import Any

from nejime.basis.errors import Fault
from nejime.basis.sayings import Words
from nejime.forms.holder import Holder
from nejime.forms.shortfall import WayOut
from nejime.forms.stems import Piece, Stem
from nejime.forms.vessel import Vessel

Answer = dict[str, Any]


def rounded(value: float) -> float:
    """Two places: a tenth of a millimetre, more than anybody cuts to."""
    return round(value, 2) + 0.0


def finite(value: float) -> float | None:
    """The same, or None where it is without bound, which JSON cannot say."""
    return rounded(value) if math.isfinite(value) else None


def stem_answer(stem: Stem) -> Answer:
    """One stem."""
    answer: Answer = {
        "id": stem.id,
        "role": stem.role,
        "label": f"{stem.label.romaji} {stem.label.kanji}".strip() if stem.label else None,
        "length_cm": rounded(stem.length_cm),
        "cut_cm": rounded(stem.cut_cm),
        "tilt_deg": rounded(stem.tilt_deg),
        "tilt_possible_deg": rounded(stem.stands_deg),
        "bearing_deg": rounded(stem.bearing_deg),
        "height_cm": rounded(stem.height_cm),
        "above_water_cm": rounded(stem.above_water_cm),
        "reach_cm": rounded(stem.reach_cm),
        "below_cm": rounded(stem.below_cm),
        "length_range_cm": [rounded(each) for each in stem.length],
        "tilt_range_deg": [rounded(each) for each in stem.tilt],
        "bearing_range_deg": [rounded(each) for each in stem.bearing],
        "foot_cm": [rounded(each) for each in stem.foot],
        "end_cm": [rounded(each) for each in stem.end],
    }
    if stem.trim_cm is not None:
        answer["trim_cm"] = [rounded(each) for each in stem.trim_cm]
    if stem.bend_deg > 0:
        answer["bend_deg"] = rounded(stem.bend_deg)
    return answer


def vessel_answer(vessel: Vessel) -> Answer:
    """A vessel, with what was estimated named."""
    return {
        "name": vessel.name,
        "shape": vessel.shape,
        "width_cm": rounded(vessel.width_cm),
        "depth_cm": rounded(vessel.depth_cm),
        "height_cm": rounded(vessel.height_cm),
        "floor_width_cm": rounded(vessel.floor_width_cm),
        "foot_width_cm": rounded(vessel.foot_width_cm),
        "mass_g": round(vessel.mass.g),
        "estimated": sorted(vessel.guessed),
    }


def holder_answer(held: Holder | None, piece: Piece) -> Answer | None:
    """The pin holder and its place."""
    if held is None:
        return None
    answer: Answer = {
        "width_cm": rounded(held.width_cm),
        "depth_cm": rounded(held.depth_cm),
        "mass_g": round(held.mass.g),
        "place": piece.place.word,
        "x_cm": rounded(piece.place.x_cm),
        "y_cm": rounded(piece.place.y_cm),
    }
    return answer


def piece_answer(piece: Piece, words: Words) -> Answer:
    """A piece: vessel, holder, water and stems."""
    return {
        "vessel": vessel_answer(piece.vessel),
        "holder": holder_answer(piece.holder, piece),
        "form": piece.form.name,
        "proportions": piece.rule.name,
        "size": piece.size,
        "opens": piece.opens,
        "base_cm": rounded(piece.base_cm),
        "water_cm": rounded(piece.water_cm),
        "water_ml": round(piece.vessel.volume_ml(piece.water_cm)),
        "stems": [stem_answer(stem) for stem in piece.stems],
        "remarks": [words.say(remark) for remark in piece.remarks],
    }


def ways_answer(ways: tuple[WayOut, ...] | None, words: Words) -> Answer:
    """What can be done with a branch that is too short; nothing where nobody asked."""
    if ways is None:
        return {}
    return {
        "ways_out": [
            {
                "kind": way.kind,
                "says": words.say(way.says),
                "stems": [stem_answer(stem) for stem in way.piece.stems],
            }
            for way in ways
        ]
    }


def fault_answer(fault: Fault, words: Words) -> Answer:
    """A fault: where, what is wrong, what to do."""
    return {
        "file": fault.says.quantities.get("file"),
        "field": fault.field,
        "line": fault.line,
        "says": words.say(fault.says),
        "try": words.say(fault.try_instead) if fault.try_instead else None,
    }
