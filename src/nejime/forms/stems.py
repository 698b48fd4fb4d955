"""The main stems of a piece in space, from a vessel, proportions, a form and a size.

Model: each stem is the straight line from its foot to its end. In a shallow vessel the foot is
between the pins and the rule's length is counted from there. In a tall vase the rule's length is
counted from the mouth; the stem goes on to the opposite inner wall or to the floor.
The rim limits how low a stem can lean: atan(way to the rim / rise of the rim above the foot).
Frame: the house frame; see `basis.angles`.
Source: proportions in `data/rules`; the rim and the vase by plane geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from nejime.basis.angles import Point, line, mirrored
from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder, fits, largest_that_fits
from nejime.forms.placing import Place, foot, mirrored_place, place, place_by_season
from nejime.forms.rules import (
    DEFAULT_RULE,
    LENGTH_TOLERANCE,
    MAIN,
    Form,
    Label,
    Range,
    Rule,
    Size,
)
from nejime.forms.vessel import Vessel

RIM_CLEAR_CM = 0.4  # [own] half a stem's thickness kept between its line and the rim
STEM_CM = 1.0  # [own] thickness of a branch in a tall vase: between pencil and little finger
DIP_CM = 2.5  # [averill1913] an inch under the water at least, ch. 4 p. 47, rounded
WATER_CM = 3.0  # [practice] usual depth over pins
TRIM_DEG = 5.0  # [own] the range to trim to in a tall vase covers this much lean either way
LONG_OVER_SHORT = 2.5  # [practice] an oblong so long makes the usual piece very large
BEARABLE_DEG = 5.0  # [own] a rim that takes less than this from a lean is not worth a word
BOW = 0.03  # [own] how far a main stem bows out, over its straight length

Opens = Literal["right", "left"]
Role = Literal["main", "helper", "heart", "leaf"]


@dataclass(frozen=True, slots=True)
class Stem:
    """One stem as it stands. Lengths are along the straight line from foot (or mouth) to end.

    `tilt_deg` is what the form aims at; `stands_deg` is the tilt in this vessel, after the rim.
    `length`, `tilt` and `bearing` hold the least, the aim and the most that a lesson allows.
    `foot` is where it ends below: between the pins, or at the wall or floor of a tall vase; `start`
    is where the rule's length begins: the foot, or the mouth of a tall vase.
    `below_cm` is the part in the vase or, in a shallow vessel, under water.
    """

    id: str
    role: Role
    label: Label | None
    length_cm: float
    tilt_deg: float
    stands_deg: float
    bearing_deg: float
    foot: Point
    start: Point
    cut_cm: float
    below_cm: float
    bow_cm: float
    length: Range
    tilt: Range
    bearing: Range
    water_z_cm: float
    bend_deg: float = 0.0
    trim_cm: tuple[float, float] | None = None
    leader: str | None = None

    @property
    def end(self) -> Point:
        """Its free end, in the house frame."""
        x, y, z = line(self.stands_deg, self.bearing_deg)
        return Point(
            self.start.x_cm + self.length_cm * x,
            self.start.y_cm + self.length_cm * y,
            self.start.z_cm + self.length_cm * z,
        )

    @property
    def height_cm(self) -> float:
        """Height of its end above the pins, or above the mouth of a tall vase."""
        return self.length_cm * math.cos(math.radians(self.stands_deg))

    @property
    def reach_cm(self) -> float:
        """How far out its end is, seen from above, from where it starts."""
        return self.length_cm * math.sin(math.radians(self.stands_deg))

    @property
    def above_water_cm(self) -> float:
        """Height of its end above the water."""
        return self.end.z_cm - self.water_z_cm


@dataclass(frozen=True, slots=True)
class Piece:
    """A planned arrangement in one vessel."""

    vessel: Vessel
    holder: Holder | None
    place: Place
    rule: Rule
    form: Form
    size: Size
    opens: Opens
    water_cm: float
    stems: tuple[Stem, ...]
    remarks: tuple[Saying, ...] = ()

    @property
    def main(self) -> tuple[Stem, ...]:
        """The three main stems."""
        return tuple(stem for stem in self.stems if stem.role == "main")

    @property
    def base_cm(self) -> float:
        """What the proportions were taken from."""
        return base_cm(self.rule, self.vessel)

    def stem(self, stem_id: str) -> Stem:
        """The stem with this id. Raises `KeyError`."""
        for stem in self.stems:
            if stem.id == stem_id:
                return stem
        raise KeyError(stem_id)


def base_cm(rule: Rule, vessel: Vessel) -> float:
    """The measure of a vessel that a rule multiplies."""
    high = vessel.height_cm + (vessel.stand_cm if rule.measures == "height" else 0.0)
    measure = rule.base["tall" if vessel.tall else "shallow"]
    return {
        "width + height": vessel.longest_cm + high,
        "width": vessel.longest_cm,
        "height": high,
    }[measure]


def piece(
    vessel: Vessel,
    rule: Rule,
    form_name: str,
    *,
    size: Size = "usual",
    opens: Opens = "right",
    held: Holder | None = None,
    water_cm: float | None = None,
    fuller_third: bool = False,
    season: str | None = None,
) -> Piece:
    """The three main stems of a form in a vessel.

    `held`: the pin holder; the largest usual one that lies flat where none is given. `season`: the
    holder goes by it (`placing.place_by_season`) where the form lets it. Raises `InputError` where
    the proportions have no such form, the size is not taught, or no holder lies flat.
    """
    form = _form(rule, form_name, vessel)
    if size not in form.factor:
        raise refuse(
            "size",
            "forms.no-size",
            "forms.no-size-try",
            size=size,
            rule=rule.title,
            choices=", ".join(form.factor),
        )
    used = None if vessel.tall else _holder(held, vessel)
    taught = place_by_season(form.holder, season) if form.season_moves_holder else form.holder
    wanted = taught if opens == "right" else mirrored_place(taught)
    where = place(wanted, used, vessel) if used else Place("middle", "middle", 0.0, 0.0)
    water = depth_of_water(vessel, used, water_cm)
    bare = Piece(vessel, used, where, rule, form, size, opens, water, ())
    lengths = _lengths(bare, fuller_third)
    stems = tuple(main_stem(bare, stem, lengths[stem]) for stem in MAIN)
    return replace(bare, stems=stems, remarks=_remarks(bare, stems))


def _form(rule: Rule, form_name: str, vessel: Vessel) -> Form:
    kind = "tall" if vessel.tall else "shallow"
    form = rule.form(form_name, kind)
    if form is None:
        known = sorted({name for name, has in rule.forms if has == kind})
        raise refuse(
            "form",
            f"forms.no-form-{kind}",
            "forms.no-form-try" if known else "forms.no-form-no-choice",
            form=form_name,
            rule=rule.title,
            choices=", ".join(known),
        )
    return form


def _holder(held: Holder | None, vessel: Vessel) -> Holder:
    if held is None:
        found = largest_that_fits(vessel)
        if found is None:
            raise refuse(
                "vessel.floor_width",
                "forms.no-holder",
                "forms.no-holder-try",
                floor_cm=min(vessel.floor_width_cm, vessel.floor_depth_cm),
            )
        return found
    if not fits(held, vessel):
        raise refuse(
            "holder",
            "forms.holder-too-wide",
            "forms.holder-too-wide-try",
            holder_cm=max(held.width_cm, held.depth_cm),
            floor_cm=min(vessel.floor_width_cm, vessel.floor_depth_cm),
        )
    return held


def depth_of_water(vessel: Vessel, held: Holder | None, asked_cm: float | None) -> float:
    """The water's depth: as asked, else enough to cover the pins, or a tall vase to the brim."""
    if asked_cm is not None:
        return min(asked_cm, vessel.inside_cm)
    if held is None:
        return vessel.most_water_cm
    return min(max(WATER_CM, held.cover_cm), vessel.most_water_cm)


def _lengths(bare: Piece, fuller_third: bool) -> dict[str, float]:
    """Lengths by the rule: from the pins in a shallow vessel, above the mouth in a tall one."""
    rule, size = bare.rule, bare.size
    first = bare.form.factor[size] * base_cm(rule, bare.vessel)
    if rule.measures == "height":
        first = _length_of_height(bare, first)
    lengths = {"first": first}
    for stem, ratio in (("second", rule.second), ("third", rule.third)):
        share = ratio.by_size.get(size, ratio.by_size.get("usual", 1.0))
        if stem == "third" and fuller_third:
            share = max(share, rule.third.by_size.get("small", share))
        lengths[stem] = lengths[ratio.of] * share
    return lengths


def _length_of_height(bare: Piece, height_cm: float) -> float:
    """Length of the first stem whose end is `height_cm` above the water."""
    start_z = _start(bare, "first").z_cm
    rise = height_cm + _water_z(bare) - start_z
    return rise / math.cos(math.radians(bare.form.first.tilt_deg.aim))


def _floor_z(bare: Piece) -> float:
    return bare.vessel.base_cm


def _water_z(bare: Piece) -> float:
    return _floor_z(bare) + bare.water_cm


def _bearing(bare: Piece, bearing_deg: float) -> float:
    return bearing_deg if bare.opens == "right" else mirrored(bearing_deg)


def _start(bare: Piece, stem: str) -> Point:
    """Where the rule's length begins."""
    bearing_deg = _bearing(bare, bare.form.lean(stem).bearing_deg.aim)
    if bare.holder is None:
        return at_mouth(bare.vessel, bearing_deg)
    return foot(stem, bearing_deg, bare.place, bare.holder, _floor_z(bare))


def at_mouth(vessel: Vessel, bearing_deg: float) -> Point:
    """The point of the mouth over which a stem leans, half its thickness inside the rim."""
    way = vessel.to_rim_cm(0.0, 0.0, bearing_deg) - STEM_CM / 2
    x, y, _ = line(90.0, bearing_deg)
    return Point(way * x, way * y, vessel.height_cm)


def lowest_tilt_deg(bare: Piece, start: Point, bearing_deg: float) -> float:
    """The largest lean that clears the rim (shallow) or still dips under water (tall vase)."""
    vessel = bare.vessel
    if bare.holder is None:
        span = vase_span_cm(vessel, bearing_deg)
        free = vessel.inside_cm - bare.water_cm
        return math.degrees(math.atan2(span, max(free, 0.0) + DIP_CM))
    way = vessel.to_rim_cm(start.x_cm, start.y_cm, bearing_deg)
    rise = vessel.height_cm + RIM_CLEAR_CM - start.z_cm
    return math.degrees(math.atan2(way, rise))


def vase_span_cm(vessel: Vessel, bearing_deg: float) -> float:
    """Horizontal way of a stem in a tall vase from the mouth to the opposite inner wall."""
    return 2 * vessel.to_rim_cm(0.0, 0.0, bearing_deg) - STEM_CM


def vase_tilt_deg(span_cm: float, depth_cm: float) -> float:
    """The tilt of a stem that leans over the mouth and rests `depth_cm` below it on the wall."""
    return math.degrees(math.atan2(span_cm, depth_cm))


def in_vase_cm(vessel: Vessel, tilt_deg: float, bearing_deg: float) -> float:
    """Length inside a tall vase: to the opposite wall, or to the floor if that comes first."""
    tilt = math.radians(tilt_deg)
    to_wall = vase_span_cm(vessel, bearing_deg) / max(math.sin(tilt), 1e-9)
    to_floor = vessel.inside_cm / max(math.cos(tilt), 1e-9)
    return min(to_wall, to_floor)


def main_stem(bare: Piece, stem: str, length_cm: float) -> Stem:
    """One of the three main stems at a length."""
    lean = bare.form.lean(stem)
    return standing_stem(
        bare,
        stem,
        "main",
        length_cm=length_cm,
        tilt=lean.tilt_deg,
        bearing=lean.bearing_deg,
        start=_start(bare, stem),
        label=bare.rule.label[stem],
    )


def standing_stem(
    bare: Piece,
    stem_id: str,
    role: Role,
    *,
    length_cm: float,
    tilt: Range,
    bearing: Range,
    start: Point,
    label: Label | None = None,
    leader: str | None = None,
    lifted: bool = True,
) -> Stem:
    """A stem of any role, with the rim, the vase and the water taken into account.

    `bearing` is written for the piece that opens to the right; `start` is where it really stands.
    With `lifted` False the stem stands as somebody saw it stand: the rim does not lift it.
    """
    bearing_deg = _bearing(bare, bearing.aim)
    lowest = lowest_tilt_deg(bare, start, bearing_deg)
    hangs = tilt.aim >= 90.0
    stands = min(tilt.aim, lowest) if lifted and not hangs else tilt.aim
    inside_deg = min(stands, lowest)
    bow = length_cm * BOW if role == "main" else 0.0
    below, end, cut, trim = _below(bare, start, length_cm, inside_deg, bearing_deg)
    return Stem(
        id=stem_id,
        role=role,
        label=label,
        length_cm=length_cm,
        tilt_deg=tilt.aim,
        stands_deg=stands,
        bearing_deg=bearing_deg,
        foot=end,
        start=start,
        cut_cm=cut + _curve_cm(length_cm, bow),
        below_cm=below,
        bow_cm=bow,
        length=Range(
            length_cm * (1 - LENGTH_TOLERANCE), length_cm, length_cm * (1 + LENGTH_TOLERANCE)
        ),
        tilt=tilt,
        bearing=_turned(bearing, bare.opens),
        water_z_cm=_water_z(bare),
        bend_deg=stands - inside_deg if lifted else 0.0,
        trim_cm=trim,
        leader=leader,
    )


def _turned(bearing: Range, opens: Opens) -> Range:
    if opens == "right":
        return bearing
    aim = mirrored(bearing.aim)
    return Range(aim - (bearing.most - bearing.aim), aim, aim + (bearing.aim - bearing.least))


def _curve_cm(length_cm: float, bow_cm: float) -> float:
    """Extra length along a shallow bow over its straight line: 8/3 of bow² over length."""
    return 8 / 3 * bow_cm**2 / length_cm if length_cm else 0.0


def _below(
    bare: Piece, start: Point, length_cm: float, tilt_deg: float, bearing_deg: float
) -> tuple[float, Point, float, tuple[float, float] | None]:
    """Part under water or in the vase, the lower end, the length to cut, the range to trim to."""
    x, y, z = line(tilt_deg, bearing_deg)
    if bare.holder is not None:
        under = max(0.0, _water_z(bare) - start.z_cm) / max(z, 1e-9)
        return min(under, length_cm), start, length_cm, None
    vessel = bare.vessel
    inside = in_vase_cm(vessel, tilt_deg, bearing_deg)
    end = Point(start.x_cm - inside * x, start.y_cm - inside * y, start.z_cm - inside * z)
    # Cut long, trim until it leans right: the whole height for an upright stem, half for others.
    spare = vessel.height_cm if tilt_deg <= 20.0 else vessel.height_cm / 2
    ends = [
        length_cm + in_vase_cm(vessel, min(max(each, 1.0), 89.0), bearing_deg)
        for each in (tilt_deg - TRIM_DEG, tilt_deg + TRIM_DEG)
    ]
    cut = length_cm + max(spare, inside)
    return inside, end, cut, (min(ends), min(max(ends), cut))


def _remarks(bare: Piece, stems: tuple[Stem, ...]) -> tuple[Saying, ...]:
    """What the teacher should know of this vessel, not faults."""
    said = list(bare.place.remarks)
    vessel = bare.vessel
    if vessel.longest_cm > min(vessel.width_cm, vessel.depth_cm):
        said.append(Saying("forms.measure-used", long_cm=vessel.longest_cm, size_cm=vessel.size_cm))
    if bare.size != "small" and vessel.longest_cm > LONG_OVER_SHORT * min(
        vessel.width_cm, vessel.depth_cm
    ):
        said.append(Saying("forms.offer-small", long_cm=stems[0].length_cm))
    for stem in stems:
        if stem.bend_deg > 0 and stem.tilt_deg >= 90:
            said.append(
                Saying("forms.bend-at-mouth", stem=stem_name(stem.id), bend_deg=stem.bend_deg)
            )
        elif stem.tilt_deg - stem.stands_deg > BEARABLE_DEG:
            said.append(
                Saying(
                    "forms.dip-lifts" if vessel.tall else "forms.rim-lifts",
                    stem=stem_name(stem.id),
                    tilt_deg=stem.tilt_deg,
                    stands_deg=stem.stands_deg,
                )
            )
    if bare.holder is not None and bare.water_cm < bare.holder.cover_cm:
        said.append(Saying("forms.pins-dry", water_cm=bare.water_cm, pins_cm=bare.holder.height_cm))
    return tuple(said)


def stem_name(stem_id: str) -> Saying:
    """What a stem is called in a sentence."""
    kind, _, number = stem_id.partition("-")
    return Saying(f"stem.{kind}", number=number) if number else Saying(f"stem.{kind}")


def rule_for(form_name: str, known: dict[str, Rule], kind: str) -> Rule:
    """The proportions for a form when nobody chose any: the usual ones, else the first that has it.

    Raises `InputError` where none has it.
    """
    order = sorted(known.values(), key=lambda rule: (rule.name != DEFAULT_RULE, rule.name))
    for rule in order:
        if rule.form(form_name, kind) is not None:
            return rule
    choices = sorted({name for rule in order for name, has in rule.forms if has == kind})
    raise refuse(
        "form",
        f"forms.nobody-has-{kind}",
        "forms.no-form-try",
        form=form_name,
        rule="",
        choices=", ".join(choices),
    )
