"""What a teacher would say of a piece that was measured: the good first, then what to change.

At most `MOST` things are to be changed, those first that move most. Where the interval of a number
does not allow a statement nothing is said; what could not be measured is named as such.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from nejime.basis.sayings import Saying, Words, texts
from nejime.desk.made.changes import changes, whole_changes
from nejime.desk.made.numbers import StemSaid, leaning, stem_said
from nejime.forms.stems import stem_name
from nejime.keeping.conditioning import growth_cm
from nejime.papers.wording import sentence, towards
from nejime.photo.answer import Line, Measured, MeasuredStem
from nejime.photo.comparing import Comparison
from nejime.photo.differences import StemCompared, known_line
from nejime.photo.triangle import EVEN, unevenness
from nejime.plants.table import plant

MOST = 3  # [practice] more at once is no help to a beginner
MOST_GOOD = 3  # [own]
CORNERS = 3  # [own] of a triangle
DEEP = 0.25  # [own] depth over the longest stem that is told of a piece without a plan


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of a piece: what is good, at most three changes by effect, what nobody can
    say from these pictures, and the numbers of each stem."""

    good: tuple[str, ...]
    change: tuple[str, ...]
    unsure: tuple[str, ...]
    rows: tuple[StemSaid, ...]


def told(
    found: Comparison | Measured, words: Words, names: Mapping[str, str] | None = None
) -> Told:
    """What is said of a piece beside its plan, or of one without a plan. `names`: what she calls
    single stems, by id."""
    made = found if isinstance(found, Measured) else found.measured
    says = _Says(words, _called(made, words, names or {}))
    if isinstance(found, Measured):
        return Told(
            good=says.all(_seen(found))[:MOST_GOOD],
            change=(),
            unsure=says.all(_unsure(found, found.stems)),
            rows=tuple(stem_said(each, None, words, says.names) for each in found.stems),
        )
    compared = {each.id: each for each in found.stems}
    return Told(
        good=says.all(_good(found))[:MOST_GOOD],
        change=says.all(changes(found, words))[:MOST],
        unsure=says.all(_not_sure(found)),
        rows=tuple(
            stem_said(each, compared.get(each.id), words, says.names) for each in made.stems
        ),
    )


def growing_cm(plants: Mapping[str, str]) -> dict[str, float]:
    """How much a stem goes on growing after it was cut, at most, by stem id; `plants` too."""
    found = {stem: growth_cm(plant(each)) for stem, each in plants.items()}
    return {stem: growth[1] for stem, growth in found.items() if growth is not None}


@dataclass(frozen=True, slots=True)
class _Says:
    """Sayings as sentences, each once; `names` are of stems that have one of their own."""

    words: Words
    names: Mapping[str, str]

    def all(self, sayings: Iterable[Saying]) -> tuple[str, ...]:
        own = {stem_name(each): name for each, name in self.names.items()}
        said = (self.words.say(_named(each, own)) for each in sayings)
        return tuple(dict.fromkeys(sentence(each) for each in said))


def _called(made: Measured, words: Words, names: Mapping[str, str]) -> dict[str, str]:
    """Names of the stems that the house has none for, or that she calls otherwise."""
    known = texts(words.language)
    strange = {each.id: each.id for each in made.stems if stem_name(each.id).key not in known}
    return {**strange, **{each: name for each, name in names.items() if name.strip()}}


def _named(saying: Saying, own: Mapping[Saying, str]) -> Saying:
    """The saying with the name of its stem."""
    stem = saying.quantities.get("stem")
    if not isinstance(stem, Saying) or stem not in own:
        return saying
    return Saying(saying.key, **{**saying.quantities, "stem": own[stem]})


# What is good


def _good(found: Comparison) -> Iterator[Saying]:
    """What surely is as it was meant, the most telling first; at least one true thing."""
    said = list(_as_meant(found))
    yield from said
    if not said:
        yield from _nearest(found)


def _as_meant(found: Comparison) -> Iterator[Saying]:
    near = [each for each in found.stems if each.near]
    all_near = {stem.id for stem in found.plan.main} <= {each.id for each in near}
    plain = found.turn is None and found.scale is None
    whole = near if plain else []
    if all_near:
        yield Saying(f"made.says.good.{'all' if plain else 'among'}")
    else:
        for each in whole:
            yield _stands(each)
    if found.uneven_as_meant:
        yield Saying("made.says.good.triangle")
    if found.depth is not None and found.depth.near:
        yield Saying("made.says.good.depth", depth_cm=found.depth.made.value)
    if found.scale is not None:
        yield Saying("made.says.good.scale")
    for each in found.stems:
        if each not in whole:
            yield from _parts_as_meant(each, found)


def _stands(each: StemCompared) -> Saying:
    assert each.lean is not None
    return Saying(
        "made.says.good.stem",
        stem=stem_name(each.id),
        tilt_deg=each.lean.made.value,
        aim_deg=each.lean.aim,
    )


def _parts_as_meant(each: StemCompared, found: Comparison) -> Iterator[Saying]:
    name = stem_name(each.id)
    if each.lean is not None and each.lean.near:
        yield Saying(
            "made.says.good.lean",
            stem=name,
            tilt_deg=each.lean.made.value,
            aim_deg=each.lean.aim,
        )
    if found.turn is None and each.direction is not None and each.direction.near:
        yield Saying("made.says.good.direction", stem=name, towards=towards(each.aim.bearing_deg))
    if found.scale is None and each.length is not None and each.length.near:
        yield Saying("made.says.good.length", stem=name, length_cm=each.length.made.value)
    if each.in_picture is not None and each.in_picture.near:
        lean = each.in_picture
        yield Saying(
            "made.says.good.picture",
            stem=name,
            lean=leaning(lean.made.value),
            aim=leaning(lean.aim),
        )


def _nearest(found: Comparison) -> Iterator[Saying]:
    """Where nothing surely is as meant: which stem is nearest to it."""
    known = [(each.away_cm, each.id) for each in found.stems if each.away_cm is not None]
    if known:
        away, stem = min(known)
        yield Saying("made.says.good.nearest", stem=stem_name(stem), away_cm=away)


def of_the_whole(found: Comparison, words: Words) -> tuple[str, ...]:
    """What is to be changed of the whole piece, without single stems."""
    return _Says(words, {}).all(whole_changes(found))


# What nobody can say


def _not_sure(found: Comparison) -> Iterator[Saying]:
    yield from _unsure(found.measured, found.measured.stems)
    for stem in found.unmarked:
        yield Saying("made.says.unsure.unmarked", stem=stem_name(stem))
    for each in found.stems:
        if each.grew:
            yield Saying("made.says.unsure.grew", stem=stem_name(each.id))
        wide = tuple(_wide(each))
        if wide:
            yield Saying("made.says.unsure.wide", stem=stem_name(each.id), what=wide)


def _wide(each: StemCompared) -> Iterator[Saying]:
    """What of a stem is known too badly to be compared."""
    for what, known in (
        ("lean", each.lean),
        ("direction", each.direction),
        ("length", each.length),
        ("lean", each.in_picture),
    ):
        if known is not None and known.made.half > known.tolerance and not known.off:
            yield Saying(f"made.says.what.{what}")


def _unsure(made: Measured, stems: Sequence[MeasuredStem]) -> Iterator[Saying]:
    one = "one" if len(made.cameras) == 1 else "two"
    if any(each.status == "lean only" for each in stems):
        yield Saying("made.says.unsure.lean-only")
    for each in stems:
        if each.status == "two answers":
            yield Saying("made.says.unsure.two-answers", stem=stem_name(each.id))
        elif each.status == "not measurable":
            yield Saying(f"made.says.unsure.not-measurable-{one}", stem=stem_name(each.id))


# A piece without a plan


def _seen(made: Measured) -> Iterator[Saying]:
    """What a piece shows by itself."""
    known = {each.id: line for each in made.stems if (line := known_line(each)) is not None}
    if len(known) == CORNERS:
        ends = [(line.end_cm.x_cm, line.end_cm.z_cm) for line in known.values()]
        if unevenness(*ends) >= EVEN:
            yield Saying("made.says.seen.triangle")
    if known:
        yield from _reach(known)
        high = max(known, key=lambda each: known[each].end_cm.z_cm)
        yield Saying(
            "made.says.seen.highest", stem=stem_name(high), height_cm=known[high].end_cm.z_cm
        )
        return
    leans = [(each, lean) for each in made.stems for lean in each.picture_lean_deg[:1] if lean]
    if leans:
        least, lean = min(leans, key=lambda pair: abs(pair[1].value))
        yield Saying(
            "made.says.seen.most-upright", stem=stem_name(least.id), lean=leaning(lean.value)
        )


def _reach(known: dict[str, Line]) -> Iterator[Saying]:
    away = [0.0, *(line.end_cm.y_cm - line.foot_cm.y_cm for line in known.values())]
    longest = max(line.length_cm.value for line in known.values())
    if max(away) - min(away) >= DEEP * longest:
        yield Saying("made.says.seen.depth", depth_cm=max(away) - min(away))
