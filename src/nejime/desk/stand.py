"""Ask whether a described piece stands, and what helps if it does not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from nejime.basis.angles import Point
from nejime.basis.sayings import Saying, Words
from nejime.desk.answers import finite, piece_answer, rounded
from nejime.desk.read_file import read_file
from nejime.forms.leaning import standing_stem
from nejime.forms.piece import depth_of_water
from nejime.forms.placing import Place, foot, place
from nejime.forms.rules import DEFAULT_RULE, Range, packaged
from nejime.forms.stems import Piece
from nejime.forms.tall import at_mouth
from nejime.reading.cases import MOST_BYTES, read_cases
from nejime.reading.stand_file import StandQuestion, read_stand
from nejime.standing.cases import judge_case
from nejime.standing.masses import Body
from nejime.standing.remedies import Remedy, remedies
from nejime.standing.verdict import Verdict, judge

OF_A_FORM = ("form", "proportions", "size", "opens", "base_cm")
"""What a described piece does not have: it is judged as it stands, whatever it is meant to be."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A described piece, its verdict, and what helps."""

    piece: Piece
    verdict: Verdict
    remedies: tuple[Remedy, ...]


def stand(path: Path) -> Standing:
    """Whether the piece that a file describes stands. Raises `InputError`."""
    question = read_stand(str(path), read_file(path))
    described, known = _described(question)
    verdict = judge(described, known)
    helps = () if verdict.word == "stands" else remedies(described, known, verdict=verdict)
    return Standing(described, verdict, helps)


def _described(question: StandQuestion) -> tuple[Piece, Mapping[str, Body]]:
    """The piece as it stands, whatever form it is meant to have."""
    rule = packaged()[DEFAULT_RULE]
    made, held = question.vessel, question.holder
    where = place(question.place, held, made) if held else Place("middle", "middle", 0.0, 0.0)
    bare = Piece(
        vessel=made,
        holder=held,
        place=where,
        rule=rule,
        form=rule.forms["upright", "tall" if made.tall else "shallow"],
        size="usual",
        opens="right",
        water_cm=depth_of_water(made, held, question.water_cm),
        stems=(),
    )
    stems, known = [], {}
    for number, told in enumerate(question.stems, start=1):
        stem_id = told.name if told.name in ("first", "second", "third") else f"stem-{number}"
        stems.append(
            standing_stem(
                bare,
                stem_id,
                "main",
                length_cm=told.length_cm,
                tilt=Range(told.tilt_deg, told.tilt_deg, told.tilt_deg),
                bearing=Range(told.bearing_deg, told.bearing_deg, told.bearing_deg),
                start=_start(bare, stem_id, told.bearing_deg),
                lifted=False,
            )
        )
        known[stem_id] = told.body
    return replace(bare, stems=tuple(stems)), known


def _start(bare: Piece, stem_id: str, bearing_deg: float) -> Point:
    if bare.holder is None:
        return at_mouth(bare.vessel, bearing_deg)
    nearest = "first" if stem_id in ("first", "stem-1") else "third"
    return foot(nearest, bearing_deg, bare.place, bare.holder, bare.vessel.base_cm)


def judge_cases(path: Path) -> list[dict[str, Any]]:
    """The answers to a file of described cases, in its order. Raises `InputError`."""
    cases: Sequence[Mapping[str, Any]] = read_cases(str(path), read_file(path, MOST_BYTES))
    return [
        {
            "load_factor_holder": found.load_factor_holder,
            "load_factor_vessel": found.load_factor_vessel,
            "falls": found.falls,
        }
        for found in (judge_case(case, f"cases[{at}].") for at, case in enumerate(cases, start=1))
    ]


def verdict_answer(verdict: Verdict, helps: Sequence[Remedy], words: Words) -> dict[str, Any]:
    """A verdict with its remedies as a dictionary."""
    return {
        "word": verdict.word,
        "level": verdict.level,
        "chance": rounded(verdict.chance),
        "reason": words.say(verdict.reason),
        "direction_deg": rounded(verdict.bearing_deg),
        "margin_cm": finite(verdict.margin_cm),
        "nudge_g": finite(verdict.nudge_g),
        "load_factor": {
            "low": finite(verdict.load_factor.low),
            "median": finite(verdict.load_factor.median),
            "high": finite(verdict.load_factor.high),
        },
        "weigh": verdict.weigh,
        "remarks": [words.say(each) for each in verdict.remarks],
        "remedies": [
            {
                "kind": each.kind,
                "says": words.say(each.says),
                "word_after": each.verdict.word if each.verdict else None,
            }
            for each in helps
        ],
    }


def standing_answer(found: Standing, words: Words) -> dict[str, Any]:
    """What is known of a described piece."""
    piece = piece_answer(found.piece, words)
    told = {key: value for key, value in piece.items() if key not in OF_A_FORM}
    return told | {"verdict": verdict_answer(found.verdict, found.remedies, words)}


def standing_text(found: Standing, words: Words) -> str:
    """The verdict as a teacher would say it."""
    lines = [words.say(found.verdict.reason)]
    lines += [f"  {words.say(each)}" for each in found.verdict.remarks]
    if found.remedies:
        lines += ["", words.say(Saying("cli.what-helps"))]
    lines += [f"- {words.say(each.says)}{_after(each, words)}" for each in found.remedies]
    return "\n".join(lines)


def _after(helps: Remedy, words: Words) -> str:
    if helps.verdict is None:
        return ""
    return f" → {words.say(Saying(f'cli.after-{helps.verdict.word}'))}"
