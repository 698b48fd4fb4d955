"""The command line, as a teacher meets it."""

import datetime as dt
import json
import subprocess
import sys
from pathlib import Path

import pytest

from nejime.cli import main
from nejime.desk.plan_class import Planned, planned_text, read_and_plan, words_of

ROOT = Path(__file__).parent.parent
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
TODAY = ["--today", "2027-02-01"]


def _json(capsys, *words):
    assert main([*words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.source(
    "practice", "1.5 × (30 + 6) = 54; 3/4; 1/2; 15, 45, 75; front left, front right"
)
@pytest.mark.source("bipm2019", "30 cm = 11.811 in")
@pytest.mark.parametrize("width", ["30", "30 cm", "300 mm", "11.811 in", '11.811"'])
def test_stems_of_a_dish_however_its_width_is_typed(capsys, width):
    answer = _json(capsys, "stems", "--width", width, "--height", "6", "--form", "upright")
    stems = answer["stems"]
    assert [stem["id"] for stem in stems] == ["first", "second", "third"]
    assert [stem["length_cm"] for stem in stems] == pytest.approx([54, 40.5, 20.25], abs=0.05)
    assert [stem["tilt_deg"] for stem in stems] == [15, 45, 75]
    assert [stem["bearing_deg"] for stem in stems] == [225, 225, 135]
    for stem in stems:
        assert stem["tilt_possible_deg"] <= stem["tilt_deg"]
        assert stem["cut_cm"] >= stem["length_cm"]
        assert stem["above_water_cm"] < stem["height_cm"]


def test_a_bowl_at_the_door_gets_a_holder_that_fits_and_a_third_stem_over_its_rim(capsys):
    answer = _json(capsys, "stems", "--width", "15", "--height", "5.5", "--shape", "bowl")
    assert answer["holder"]["width_cm"] <= answer["vessel"]["floor_width_cm"]
    assert answer["holder"]["place"] == "middle"
    third = answer["stems"][2]
    assert third["tilt_possible_deg"] < 75
    foot_x, foot_y, foot_z = third["foot_cm"]
    end_x, end_y, end_z = third["end_cm"]
    # Where the stem passes over the rim's circle, it must be above the rim.
    for share in [step / 200 for step in range(201)]:
        x, y = foot_x + share * (end_x - foot_x), foot_y + share * (end_y - foot_y)
        if x * x + y * y >= 7.5**2:
            assert foot_z + share * (end_z - foot_z) > 5.5
            break


@pytest.mark.parametrize("opens", ["right", "left"])
def test_a_form_opens_to_either_side(capsys, opens):
    answer = _json(capsys, "stems", "--width", "30", "--height", "6", "--opens", opens)
    expected = [225, 225, 135] if opens == "right" else [135, 135, 225]
    assert [stem["bearing_deg"] for stem in answer["stems"]] == expected


@pytest.mark.parametrize(
    "words",
    [
        ["stems", "--width", "0", "--height", "6"],
        ["stems", "--width", "-3", "--height", "6"],
        ["stems", "--width", "3 m", "--height", "6"],
        ["stems", "--height", "6"],
        ["stems", "--width", "30", "--height", "6", "--form", "upside-down"],
        ["stems", "--width", "30", "--height", "6", "--rule", "nobodys"],
        ["stems", "--width", "30", "--height", "6", "--size", "huge"],
        ["stems", "--width", "30", "--height", "6", "--holder", "29.9"],
        ["stems", "--width", "30", "--height", "6", "--form", "hanging"],
        ["stems", "--width", "30", "--height", "6", "--rules", "no-such-folder"],
        ["stand", "no-such-file.toml"],
        ["stand", "--cases", "no-such-file.json"],
        ["plan", "no-such-file.toml", "--out", "papers"],
        ["plants", "forsithia"],
        ["measure", "no-such-file.json"],
    ],
)
def test_what_cannot_be_answered_says_where_why_and_what_to_do(
    capsys, words, tmp_path, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "Traceback" not in told.err
    lines = told.err.strip().splitlines()
    assert len(lines) >= 3  # a heading, what is wrong, what to do
    assert lines[1].startswith("- ")
    assert list(tmp_path.iterdir()) == []
    assert main([*words, "--json"]) == 2
    assert json.loads(capsys.readouterr().out)["faults"]


def test_every_fault_is_told_at_once(capsys):
    assert main(["stems", "--width", "300", "--height", "0", "--ware", "cheese", "--json"]) == 2
    fields = {fault["field"] for fault in json.loads(capsys.readouterr().out)["faults"]}
    assert fields == {"width", "height", "ware"}


@pytest.mark.parametrize("words", [["stems", "--width", "wide"], ["plan"], ["nothing"], []])
def test_a_mistyped_command_ends_with_two(words, capsys):
    with pytest.raises(SystemExit) as ended:
        main(words)
    assert ended.value.code == 2
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("command", ["stems", "plan", "stand", "plants", "new-class", "measure"])
def test_every_help_shows_an_example(command, capsys):
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])
    assert ended.value.code == 0
    assert f"Example: nejime {command}" in capsys.readouterr().out


def test_cases_are_answered_in_their_order(capsys):
    file = ROOT / "tests" / "data" / "standing_cases.json"
    answers = _json(capsys, "stand", "--cases", str(file))["cases"]
    cases = json.loads(file.read_text(encoding="utf-8"))["cases"]
    assert len(answers) == len(cases)
    for answer, case in zip(answers, cases, strict=True):
        factors = [answer["load_factor_holder"], answer["load_factor_vessel"]]
        smaller = min(factor for factor in factors if factor is not None)
        if not 0.9 <= smaller <= 1.2:
            assert answer["falls"] == case["simulated"]


def test_a_first_class_file_can_be_planned_as_it_is(tmp_path, capsys):
    file = tmp_path / "mine.toml"
    assert main(["new-class", str(file), *TODAY]) == 0
    before = file.read_text(encoding="utf-8")
    assert main(["new-class", str(file), *TODAY]) == 2
    assert file.read_text(encoding="utf-8") == before
    assert main(["plan", str(file), "--out", str(tmp_path / "papers"), *TODAY]) == 0
    assert (tmp_path / "papers" / "handouts.pdf").exists()
    assert capsys.readouterr().out


def few(example):
    """An example with its first and its last person: most of its papers, in a part of the time."""
    head, first, *_, last = example.read_text(encoding="utf-8").split("[[person]]")
    return "[[person]]".join((head, first, last))


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_is_planned_twice_into_equal_bytes(example, tmp_path, capsys):
    once, again, file = tmp_path / "once", tmp_path / "again", tmp_path / example.name
    file.write_text(few(example), encoding="utf-8")
    for folder in (once, again):
        assert main(["plan", str(file), "--out", str(folder), *TODAY]) == 0
    capsys.readouterr()
    names = sorted(path.relative_to(once) for path in once.rglob("*") if path.is_file())
    assert names == sorted(path.relative_to(again) for path in again.rglob("*") if path.is_file())
    for name in names:
        assert (once / name).read_bytes() == (again / name).read_bytes(), name
    plan = json.loads((once / "plan.json").read_text(encoding="utf-8"))
    assert plan["files"] == sorted(name.as_posix() for name in names)
    assert all((once / f"handouts/{path.name}").exists() for path in (once / "handouts").iterdir())


def test_what_gardens_do_not_have_in_that_month_is_said(tmp_path):
    """Common knowledge of the table: forsythia flowers in spring, not in July."""
    file = tmp_path / "july.toml"
    text = few(EXAMPLES[0]).replace("2027-03-13", "2027-07-17")
    file.write_text(text, encoding="utf-8")
    plan = read_and_plan(file, dt.date(2027, 2, 1))  # no papers: they take most of the time
    told = planned_text(Planned(plan, tmp_path, ()), words_of(plan.lesson))
    assert "! Forsythia is not usually ready in gardens" in told


@pytest.mark.parametrize("count", ["-1", "99"])
def test_more_stems_than_places_are_refused(count, capsys):
    assert main(["stems", "--width", "30", "--height", "6", "--helpers", count]) == 2
    assert "helpers" in capsys.readouterr().err


def test_a_class_in_the_past_is_planned_with_a_warning(tmp_path, capsys):
    file = tmp_path / "past.toml"
    file.write_text(few(EXAMPLES[1]), encoding="utf-8")
    folder = str(tmp_path / "papers")
    words = ["plan", str(file), "--out", folder, "--today", "2036-01-01", "--json"]
    assert main(words) == 0
    assert any("past" in each for each in json.loads(capsys.readouterr().out)["warnings"])


def test_a_bad_class_file_writes_nothing(tmp_path, capsys):
    file = tmp_path / "bad.toml"
    file.write_text('[class]\ntitle = "x"\nminutes = -3\n', encoding="utf-8")
    assert main(["plan", str(file), "--out", str(tmp_path / "papers"), *TODAY]) == 2
    assert not (tmp_path / "papers").exists()
    assert "line 3" in capsys.readouterr().err


def test_the_command_stands_alone():
    """As it is typed in a terminal, with no tests around it; what only pictures need stays away."""
    done = subprocess.run(
        [
            sys.executable,
            "-X",
            "importtime",
            "-m",
            "nejime",
            "stems",
            "--width",
            "30",
            "--height",
            "6",
        ],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0
    assert "54 cm" in done.stdout
    for heavy in ("scipy", "cv2", "PIL", "pi_heif"):
        assert f" {heavy}\n" not in done.stderr


def test_a_class_file_given_to_stand_is_told_for_what_it_is(capsys):
    assert main(["stand", str(EXAMPLES[0])]) == 2
    told = capsys.readouterr().err
    assert "the file of a class" in told
    assert "nejime plan" in told


def test_many_plants_are_listed_and_few_are_told_whole(capsys):
    main(["plants", "lily"])
    assert "!" not in capsys.readouterr().out
    main(["plants", "forsythia"])
    assert "!" in capsys.readouterr().out


@pytest.mark.source("naoj-reki", "立春 2026-02-04 05:02 in Japan; the first of 24 and of 72")
def test_a_day_of_the_calendar_is_answered_in_japans_time(capsys):
    answer = _json(capsys, "season", "--on", "2026-02-04")
    assert answer["zone"] == "Asia/Tokyo"
    for kind, kanji in (("sekki", "立春"), ("ko", "東風解凍")):
        told = answer[kind]
        assert (told["number"], told["kanji"]) == (1, kanji)
        assert told["reading"]
        assert told["starts"].startswith("2026-02-04T05:02")
        assert told["starts"].endswith("+09:00")
    assert answer["plants"]
    eve = _json(capsys, "season", "--on", "2026-02-03")
    assert (eve["sekki"]["number"], eve["ko"]["number"]) == (24, 72)


@pytest.mark.source("naoj-reki", "05:02 in Japan is 14:02 of the day before in Chicago")
def test_another_zone_has_its_own_days(capsys):
    answer = _json(capsys, "season", "--on", "2026-02-03", "--zone", "America/Chicago")
    assert answer["sekki"]["number"] == 1
    assert answer["sekki"]["starts"].startswith("2026-02-03T14:02")


@pytest.mark.source("practice", "a comma is a point; south is negative")
@pytest.mark.parametrize("lat", ["-41.3", "-41,3", "\N{MINUS SIGN}41.3"])
def test_a_southern_place_is_understood_and_its_own_season_stands_beside(capsys, lat):
    answer = _json(capsys, "season", "--on", "2027-09-20", "--lat", lat, "--lon", "174.8")
    assert answer["place"]["climate_of"] == "Wellington, NZ"
    assert answer["sekki"]["kanji"] == "白露"
    assert answer["sekki"]["here"]["kanji"] == "啓蟄"


@pytest.mark.source("own", "far from every city there is no climate, and it is said")
def test_a_place_in_the_ocean_goes_without_a_climate(capsys):
    answer = _json(capsys, "season", "--on", "2027-05-20", "--lat", "-50", "--lon", "-120")
    assert answer["place"]["climate_of"] is None
    assert answer["plants"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--on", "2090-01-01"], "2090 is not in it"),
        (["--on", "1950-12-31"], "1950 is not in it"),
        (["--place", "Atlantis"], "not among our cities"),
        (["--lat", "95", "--lon", "3"], "no latitude"),
        (["--lat", "nan", "--lon", "3"], "no latitude"),
        (["--lat", "41"], "both latitude and longitude"),
        (["--zone", "Moon/Crater"], "not a time zone"),
    ],
)
def test_a_season_that_cannot_be_told_says_why(capsys, words, says):
    assert main(["season", *words]) == 2
    assert says in capsys.readouterr().err
