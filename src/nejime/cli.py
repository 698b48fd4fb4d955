"""The command line: reads words, calls one act of the desk, prints what it answers.

Every command takes `--json`. A fault is told with its place and what to do, and ends with 2.
"""

from __future__ import annotations

import argparse
import datetime as dt
import json
import os
import re
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from nejime import __version__
from nejime.basis import units
from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying, Words

COMMAND = os.environ.get("NEJIME_COMMAND", "nejime")
"""What the reader typed to come here; start.py says so."""
STOPPED = 130  # what shells expect of a command that was stopped with Ctrl-C
SHAPES = ("round", "oval", "rectangle", "bowl", "footed", "vase")
JAPAN = "Asia/Tokyo"
BELOW_ZERO = re.compile(r"[-\N{MINUS SIGN}][\d.,]")
MOST_WHOLE = 3  # [own] more plants than these are listed, a line each
LENGTHS = (
    ("width", "inside, left to right at the rim (a vase: its mouth)"),
    ("depth", "inside, front to back; as the width where it is left out"),
    ("height", "outside, without a stand"),
    ("corner-radius", "of a rectangle's rounded corners"),
    ("floor-width", "of the flat part of the floor inside"),
    ("foot-width", "of the foot that it stands on"),
    ("foot-height", "of a footed bowl's foot"),
    ("wall", "thickness"),
    ("body", "widest inside of a vase with a narrow mouth"),
    ("stand", "height of a stand under it"),
)


def length(text: str) -> float:
    """A typed length, for argparse."""
    try:
        return units.length_cm(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"“{text}” is not a length; write it like 30, 30 cm or 12 in"
        ) from None


def mass(text: str) -> float:
    """A typed mass, for argparse."""
    try:
        return units.mass_g(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"“{text}” is not a weight; write it like 450, 450 g or 1 lb"
        ) from None


def day(text: str) -> dt.date:
    """A typed date, for argparse."""
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"“{text}” is not a date like 2027-02-01") from None


def degrees(text: str) -> float:
    """Typed degrees of latitude or longitude, for argparse."""
    try:
        return float(text.replace(",", ".").replace("\N{MINUS SIGN}", "-"))
    except ValueError:
        raise argparse.ArgumentTypeError(f"“{text}” is not a number of degrees like 41.9") from None


def _stems(asked: argparse.Namespace, words: Words) -> int:
    from nejime.desk import answers, tell
    from nejime.desk.read_file import read_own_rules
    from nejime.desk.size_vessel import size_vessel, too_short

    numbers = {
        name.replace("-", "_"): getattr(asked, name.replace("-", "_")) for name, _ in LENGTHS
    }
    piece = size_vessel(
        asked.shape,
        numbers | {"mass": asked.mass},
        asked.form,
        rule=asked.rule,
        size=asked.size,
        opens=asked.opens,
        holder_cm=asked.holder,
        water_cm=asked.water,
        fuller_third=asked.fuller_third,
        helpers=asked.helpers,
        hearts=asked.hearts,
        leaves=asked.leaves,
        own_rules=read_own_rules(Path(asked.rules)) if asked.rules else None,
        ware=asked.ware,
    )
    ways = too_short(piece, asked.branch) if asked.branch is not None else None
    if asked.json:
        return _print_json(answers.piece_answer(piece, words) | answers.ways_answer(ways, words))
    print(tell.piece_text(piece, words))
    if ways is not None:
        print("\n" + tell.ways_text(ways, words))
    return 0


def _plants(asked: argparse.Namespace, words: Words) -> int:
    from nejime.desk.look_up_plants import look_up_plants, plant_answer, plants_text

    word = " ".join(asked.word).strip() or None
    found = look_up_plants(word)
    if asked.json:
        return _print_json({"plants": [plant_answer(plant, words) for plant in found]})
    print(plants_text(found, words, whole=word is not None and len(found) <= MOST_WHOLE))
    return 0


def _season(asked: argparse.Namespace, words: Words) -> int:
    from nejime.desk.season import place_asked, season_answer, season_on, zone_asked
    from nejime.desk.season_words import season_text

    zone = zone_asked(asked.zone)
    where = place_asked(asked.place, asked.lat, asked.lon, asked.zone)
    found = season_on(asked.on or dt.date.today(), where, zone)
    if asked.json:
        return _print_json(season_answer(found, words))
    print(season_text(found, words))
    return 0


def _stand(asked: argparse.Namespace, words: Words) -> int:
    from nejime.desk.stand import judge_cases, stand, standing_answer, standing_text

    if asked.cases:
        answers = judge_cases(Path(asked.cases))
        if asked.json:
            return _print_json({"cases": answers})
        for number, answer in enumerate(answers, start=1):
            print(number, answer["falls"])
        return 0
    found = stand(Path(asked.file))
    if asked.json:
        return _print_json(standing_answer(found, words))
    print(standing_text(found, words))
    return 0


def _measure(asked: argparse.Namespace, words: Words) -> int:
    from nejime.desk.measure import measure_request, measured_answer, measured_text

    looked = measure_request(Path(asked.file))
    if asked.json:
        return _print_json(measured_answer(looked, words))
    print(measured_text(looked, words))
    return 0


def _plan(asked: argparse.Namespace, words: Words) -> int:
    from nejime.desk.folder import check_folder
    from nejime.desk.plan_class import plan_answer, plan_class, planned_text, words_of

    folder = check_folder(asked.out)
    with _Bar(words, hidden=asked.json) as bar:
        planned = plan_class(Path(asked.file), folder, asked.today or dt.date.today(), bar.told)
    own = words_of(planned.plan.lesson)
    if asked.json:
        answer = {"folder": str(planned.folder), "files": planned.files}
        return _print_json(plan_answer(planned.plan, own) | answer)
    print(planned_text(planned, own))
    return 0


class _Bar:
    """A progress bar beside the answer, where somebody looks at it."""

    def __init__(self, words: Words, *, hidden: bool) -> None:
        from tqdm import tqdm

        self.words = words
        self.bar = tqdm(
            disable=hidden or not sys.stderr.isatty(),
            leave=False,
            bar_format="{desc} {bar} {n}/{total}",
        )

    def __enter__(self) -> _Bar:
        return self

    def __exit__(self, *trouble: object) -> None:
        self.bar.close()

    def told(self, what: str, done: int, of: int) -> None:
        """Move the bar."""
        self.bar.set_description_str(self.words.say(Saying(f"cli.doing-{what}")), refresh=False)
        self.bar.total, self.bar.n = of, done
        self.bar.refresh()


def _new_class(asked: argparse.Namespace, words: Words) -> int:
    from nejime.desk.new_class import new_class

    day = new_class(Path(asked.file), asked.today or dt.date.today())
    if asked.json:
        return _print_json({"file": asked.file, "date": day.isoformat()})
    print(words.say(Saying("cli.new-class", file=asked.file, day=day.isoformat(), command=COMMAND)))
    return 0


def _open(asked: argparse.Namespace, words: Words) -> int:
    from nejime.desk.shelf import usual_place
    from nejime.web.serving import serve

    def tell(address: str) -> None:
        print(words.say(Saying("web.open", address=address)), flush=True)
        print(words.say(Saying("web.open-stop")), flush=True)

    serve(
        Path(asked.keep_in) if asked.keep_in else usual_place(),
        port=asked.port,
        browser=not asked.no_browser,
        demo=asked.demo,
        tell=tell,
    )
    return 0


def _print_json(answer: Any) -> int:
    print(json.dumps(answer, ensure_ascii=False, indent=1, allow_nan=False))
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog=COMMAND,
        description="What an ikebana class needs, computed for each participant's own vessel.",
        epilog="Example: nejime stems --width 30 --height 6 --form upright",
    )
    parser.add_argument("--version", action="version", version=f"nejime {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _add_stems(commands)
    plan = _command(
        commands,
        "plan",
        _plan,
        "Plan a class: every paper, drawing and date from its class file, into one folder.",
        "nejime plan examples/1-saturday-mixed-bowls.toml --out papers",
    )
    plan.add_argument("file", metavar="CLASS.toml", help="begin one with: nejime new-class")
    plan.add_argument("--out", metavar="FOLDER", required=True, help="where the papers go")
    plan.add_argument("--today", type=day, metavar="DATE", help="instead of today, like 2027-02-01")
    stand = _command(
        commands,
        "stand",
        _stand,
        "Whether a described piece stands, and what helps if it does not.",
        "nejime stand my-piece.toml",
    )
    which = stand.add_mutually_exclusive_group(required=True)
    which.add_argument("file", nargs="?", help="TOML with the tables vessel, holder and stem")
    which.add_argument("--cases", metavar="FILE", help="JSON with many described pieces")
    measuring = _command(
        commands,
        "measure",
        _measure,
        "How stems lean, where to and how long they are, from one picture or two of a piece.",
        "nejime measure my-pictures.json",
    )
    measuring.add_argument("file", metavar="REQUEST.json", help="the vessel, and what was marked")
    new = _command(
        commands,
        "new-class",
        _new_class,
        "Begin a class file: commented, and right as it is.",
        "nejime new-class my-class.toml",
    )
    new.add_argument("file", metavar="FILE")
    new.add_argument("--today", type=day, metavar="DATE", help="instead of today, like 2027-02-01")
    plants = _command(
        commands,
        "plants",
        _plants,
        "What is known of a plant as arranging material; all plants without a word.",
        "nejime plants quince",
    )
    season = _command(
        commands,
        "season",
        _season,
        "The calendar of a day, and what is in season on it at a place.",
        "nejime season --on 2027-03-20 --place Chicago",
    )
    season.add_argument("--on", type=day, metavar="DATE", help="like 2027-03-20; today without it")
    season.add_argument("--place", metavar="CITY", help="a large city near you, e.g. Chicago")
    season.add_argument("--lat", type=degrees, metavar="DEGREES", help="north; south is negative")
    season.add_argument("--lon", type=degrees, metavar="DEGREES", help="east; west is negative")
    season.add_argument(
        "--zone", default=JAPAN, help="whose days the calendar counts; Japan's without it"
    )
    plants.add_argument("word", nargs="*", help="any name: English, scientific, Japanese")
    opening = _command(
        commands,
        "open",
        _open,
        "Open the pages in the browser: the arranging table, your classes, your cupboard.",
        "nejime open --demo",
    )
    opening.add_argument("--demo", action="store_true", help="lay out an invented class to try")
    opening.add_argument("--port", type=int, metavar="N", help="answer at this port")
    opening.add_argument("--no-browser", action="store_true", help="only say the address")
    opening.add_argument("--keep-in", metavar="FOLDER", help="where what you make is kept")
    return parser


def _command(
    commands: Any,
    name: str,
    act: Callable[[argparse.Namespace, Words], int],
    says: str,
    example: str,
) -> argparse.ArgumentParser:
    added: argparse.ArgumentParser = commands.add_parser(
        name,
        help=says,
        description=says,
        epilog=f"Example: {example.replace('nejime', COMMAND, 1)}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    added.add_argument("--json", action="store_true", help="print the answer as JSON")
    added.add_argument(
        "--units", choices=("cm", "in", "both"), default="cm", help="units of what is printed"
    )
    added.set_defaults(act=act)
    return added


def _add_stems(commands: Any) -> None:
    stems = _command(
        commands,
        "stems",
        _stems,
        "Stem lengths, leans, directions and the pin holder for one vessel.",
        'nejime stems --width "12 in" --height 6 --form slanting --opens left',
    )
    stems.add_argument("--shape", choices=SHAPES, default="round")
    for name, says in LENGTHS:
        stems.add_argument(f"--{name}", type=length, metavar="LENGTH", help=says)
    stems.add_argument("--mass", type=mass, help="of the empty vessel, e.g. 900 g")
    stems.add_argument("--ware", default="ceramic", help="ceramic, glass, metal, plastic or wood")
    stems.add_argument("--form", default="upright")
    stems.add_argument("--rule", help="proportions that you teach, e.g. width-plus-height")
    stems.add_argument("--rules", metavar="FOLDER", help="your own proportions, TOML files")
    stems.add_argument("--size", default="usual", help="small, usual or large piece")
    stems.add_argument("--opens", choices=("right", "left"), default="right")
    stems.add_argument("--holder", type=length, metavar="LENGTH", help="diameter of the pin holder")
    stems.add_argument("--water", type=length, metavar="LENGTH", help="depth of the water")
    stems.add_argument(
        "--branch", type=length, metavar="LENGTH", help="the longest that you have, if it is short"
    )
    stems.add_argument("--fuller-third", action="store_true", help="third stem 3/4 of the second")
    for role in ("helpers", "hearts", "leaves"):
        stems.add_argument(f"--{role}", type=int, default=0, metavar="N")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command; the exit code is 0, 2 where it cannot be answered, 130 where it is stopped."""
    asked = _parser().parse_args(_joined(sys.argv[1:] if arguments is None else arguments))
    words = Words(unit=asked.units)
    try:
        act: Callable[[argparse.Namespace, Words], int] = asked.act
        return act(asked, words)
    except InputError as trouble:
        return _refuse(trouble, words, as_json=asked.json)
    except BrokenPipeError:
        return 0
    except KeyboardInterrupt:
        print("\n" + words.say(Saying("cli.stopped")), file=sys.stderr)
        return STOPPED


def _joined(arguments: Sequence[str]) -> list[str]:
    """The arguments; a latitude like -33,9 is one of its option, not an option itself."""
    found: list[str] = []
    for each in (f"{each} " if each.endswith("=--") else each for each in arguments):
        if found and found[-1] in ("--lat", "--lon") and BELOW_ZERO.match(each):
            found[-1] = f"{found[-1]}={each}"
        else:
            found.append(each)
    return found


def _place(fault: Fault, words: Words) -> str:
    """Where a fault is: file, line and field, as far as they are known."""
    file = str(fault.says.quantities.get("file", ""))
    line = words.say(Saying("cli.line", line=fault.line)) if fault.line is not None else ""
    told = ", ".join(dict.fromkeys(part for part in (file, line, fault.field) if part))
    return f"{told}: " if told else ""


def _refuse(trouble: InputError, words: Words, *, as_json: bool) -> int:
    if as_json:
        from nejime.desk.answers import fault_answer

        _print_json({"faults": [fault_answer(fault, words) for fault in trouble.faults]})
        return 2
    print(words.say(Saying("cli.trouble")), file=sys.stderr)
    for fault in trouble.faults:
        print(f"- {_place(fault, words)}{words.say(fault.says)}", file=sys.stderr)
        if fault.try_instead is not None:
            print(f"  {words.say(fault.try_instead)}", file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
