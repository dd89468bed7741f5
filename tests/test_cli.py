"""The command line as a coach meets it: what it prints, what it writes, how it ends."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any
from unittest.mock import Mock

import jsonschema
import pytest

from curriculum.cli.schema import FORMATS
from curriculum.planning import Planned, make_plan
from tests.command_line import NOW, QUICK, Ended, Line


@pytest.fixture
def demo(line: Line, tmp_path: Path) -> Path:
    """Return a folder with a copy of the under-12 demo, not planned yet."""
    folder = tmp_path / "demo"
    assert line("new", folder, "--from", "kestrel-quay-u12").code == 0
    return folder


def test_a_season_from_start_to_handout(line: Line, demo: Path) -> None:
    """New, check, plan, sheet, print and calendar work one after the other."""
    assert line("check", demo) == Ended(
        0, "All is well: the files can be read and every goal can be reached in time.\n", ""
    )
    assert line("plan", demo, *QUICK).code == 0
    assert "Give and go, live" in line("sheet", demo, "2027-02-10").out
    assert line("print", demo).code == 0
    assert line("calendar", demo, *NOW).code == 0
    assert line("check", demo).code == 0
    assert (demo / "print" / "sheets.pdf").read_bytes().startswith(b"%PDF")
    assert (demo / "calendar.ics").read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


def test_the_same_input_gives_the_same_bytes(line: Line, demo: Path) -> None:
    """Plan, calendar and prints are the same to the byte when they are made again."""
    made: list[dict[str, bytes]] = []
    for _ in range(2):
        for name in ("plan.json", "published.json", "calendar.ics"):
            (demo / name).unlink(missing_ok=True)
        line("plan", demo, *QUICK)
        line("calendar", demo, *NOW)
        line("print", demo)
        made.append(
            {path.name: path.read_bytes() for path in sorted(demo.rglob("*")) if path.is_file()}
        )

    assert made[0] == made[1]


def test_planning_again_changes_nothing(line: Line, demo: Path) -> None:
    """A second run leaves the plan file as it is and says so."""
    line("plan", demo, *QUICK)
    before = (demo / "plan.json").read_bytes()

    again = line("plan", demo, "--now", "2027-01-05T10:00", "--effort", "quick")

    assert "stays at revision 1.\n" in again.out
    assert (demo / "plan.json").read_bytes() == before


def test_a_plan_that_comes_too_late_is_not_written(
    line: Line, demo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another command or the server was quicker: theirs stands, and this one ends with 1.

    What would have been written has been told by then.
    """

    def meanwhile(*space: Any, **others: Any) -> Planned:
        made = make_plan(*space, **others)
        (demo / "plan.json").write_bytes(b"theirs")
        return made

    monkeypatch.setattr("curriculum.cli.plan.make_plan", meanwhile)
    ended = line("plan", demo, *QUICK)

    assert ended.code == 1
    assert "Plan revision 1." in ended.out
    assert "Written" not in ended.out
    assert ended.err == (
        f"{demo}/plan.json: another plan was put in force while this one was being made, so it was"
        " not written; look at the one that stands, then plan again\n"
    )
    assert (demo / "plan.json").read_bytes() == b"theirs"


def test_of_many_changes_two_weeks_are_shown_and_the_rest_on_request(
    line: Line, demo: Path
) -> None:
    """After a loss and a change of times: what is near, then counts; `--all` shows everything.

    Also when it is asked for after the plan has been written.
    """
    line("plan", demo, *QUICK)
    line("calendar", demo, *NOW)
    file = demo / "season.toml"
    later = file.read_text(encoding="utf-8").replace("start = 18:00:00", "start = 18:30:00")
    file.write_text(later, encoding="utf-8")
    words = ("--now", "2027-01-06T09:00", "--effort", "quick")
    lost = ("--what-if", "no 2027-01-20")

    tried, every = line("plan", demo, *words, *lost), line("plan", demo, *words, *lost, "--all")
    data = json.loads(line("plan", demo, *words, *lost, "--json").out)["changes"]
    written = line("plan", demo, *words)
    after = line("plan", demo, *words, "--all")

    hint = "more practices later: `curriculum plan --all` shows them\n"
    assert (hint in tried.out, hint in every.out, hint in written.out) == (True, False, True)
    assert (changed(tried.out) < changed(every.out), len(data["practices"])) == (True, 12)
    assert changed(every.out) == len(data["practices"]) + len(data["blocks"])
    assert changed(after.out) == 11
    assert after.out.index("Revision 1 to 2") < after.out.index("Nothing changed")


def changed(out: str) -> int:
    """Return how many lines of an output tell one change."""
    return len(re.findall(r"^(?:moved|new  |gone ) ", out, re.MULTILINE))


def test_faults_are_told_all_at_once_and_end_with_one(line: Line, demo: Path) -> None:
    """Every fault of a season file is one line with its place; nothing is written."""
    file = demo / "season.toml"
    text = file.read_text(encoding="utf-8")
    text = text.replace('weekday = "friday"', 'weekday = "fryday"')
    text = text.replace('skill = "give-and-go"', 'skill = "give-and-gone"', 1)
    file.write_text(text, encoding="utf-8")

    ended = line("plan", demo)

    assert ended.code == 1
    assert ended.out == ""
    assert [row.split(": ", 1)[1] for row in ended.err.splitlines()] == [
        (
            'slot[2].weekday: must be one of "monday", "tuesday", "wednesday", "thursday", '
            '"friday", "saturday" or "sunday" (found "fryday"); write weekday = "friday"'
        ),
        'goal[1].skill: no skill has this id (found "give-and-gone"); did you mean "give-and-go"?',
    ]
    assert not (demo / "plan.json").exists()


def test_a_must_goal_out_of_reach_ends_with_one(line: Line, demo: Path) -> None:
    """A season that cannot meet a must-goal is still planned, says so, and ends with 1."""
    file = demo / "season.toml"
    text = file.read_text(encoding="utf-8")
    early = 'stage = "live"\nby = 2027-01-16\nneed = "must"'
    file.write_text(
        text.replace('stage = "live"\nby = "otters-home"\nneed = "must"', early, 1),
        encoding="utf-8",
    )

    checked = line("check", demo)
    ended = line("plan", demo, *QUICK)

    assert (checked.code, ended.code) == (1, 1)
    assert "MISSED Give and go" in ended.out
    plan = json.loads((demo / "plan.json").read_text(encoding="utf-8"))
    assert plan["status"] == "partial"
    assert next((each["skill"], each["stage"]) for each in plan["misses"]) == (
        "give-and-go",
        "live",
    )


def test_a_hand_edited_plan_is_judged(line: Line, demo: Path) -> None:
    """`check` names the rules that an edited plan breaks."""
    line("plan", demo, *QUICK)
    file = demo / "plan.json"
    plan = json.loads(file.read_text(encoding="utf-8"))
    plan["practices"][0], plan["practices"][-1] = (
        {**plan["practices"][0], "blocks": plan["practices"][-1]["blocks"]},
        {**plan["practices"][-1], "blocks": plan["practices"][0]["blocks"]},
    )
    file.write_text(json.dumps(plan), encoding="utf-8")

    ended = line("check", demo, "--json")

    assert ended.code == 1
    rules = {each["key"] for each in json.loads(ended.out)["problems"]}
    assert {"needs come first", "ladder"} <= rules


def test_a_torn_plan_is_a_problem_not_a_crash(line: Line, demo: Path) -> None:
    """A plan file that is cut off gives one sentence with its place."""
    line("plan", demo, *QUICK)
    file = demo / "plan.json"
    file.write_bytes(file.read_bytes()[:1000])

    ended = line("show", demo)

    assert (ended.code, ended.out) == (1, "")
    assert ended.err.startswith(f"{file}:")
    assert len(ended.err.splitlines()) == 1


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("plan", "--today", "yesterday"), "write it like 2027-01-20"),
        (("plan", "--now", "0001-01-01T00:00+14:00"), "write it like 2027-01-05T09:00"),
        (("show", "--week", "0"), "Invalid value for '--week'"),
        (("show", "--chart", "--graph"), "choose one of"),
        (("new",), "Missing argument 'FOLDER'"),
        (("new", "x", "--from", "nothing"), "kestrel-quay-u12, kestrel-quay-u16"),
        (("flan",), "No such command 'flan'; did you mean \"plan\"?"),
        (("schema", "nothing"), "is not one of"),
    ],
)
def test_wrong_usage_ends_with_two(line: Line, words: tuple[str, ...], says: str) -> None:
    """A wrong call is told how to do better and ends with 2."""
    ended = line(*words)

    assert ended.code == 2
    assert says in ended.err


@pytest.mark.parametrize("epoch", ["yesterday", "9" * 30, "9" * 5000])
def test_a_strange_source_date_epoch_is_wrong_usage(
    line: Line, demo: Path, monkeypatch: pytest.MonkeyPatch, epoch: str
) -> None:
    """A moment in the environment that is none is named, and ends with 2."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    ended = line("check", demo)

    assert (ended.code, ended.out) == (2, "")
    assert "write the seconds since 1970, or unset it" in ended.err


def test_a_machine_without_a_keyring_is_asked_for_no_traceback(
    line: Line, demo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the library finds no keyring, or a locked one, the password counts as missing."""

    class KeyringError(Exception):
        """As in the library `keyring`, whose errors are all of this kind."""

    keyring = Mock(get_password=Mock(side_effect=KeyringError))
    monkeypatch.setitem(sys.modules, "keyring", keyring)
    monkeypatch.setitem(sys.modules, "keyring.errors", Mock(KeyringError=KeyringError))
    monkeypatch.delenv("CURRICULUM_CALDAV_PASSWORD", raising=False)
    line("plan", demo, *QUICK)
    ended = line("calendar", demo, *NOW, "--publish", "caldav://coach@dav.example.org/team/")

    assert (ended.code, ended.out) == (1, "")
    assert ended.err == (
        "--publish: no password found (found coach); set CURRICULUM_CALDAV_PASSWORD, or "
        "`keyring set curriculum coach`\n"
    )


def test_what_is_not_in_the_season_is_wrong_usage(line: Line, demo: Path) -> None:
    """An unknown skill, strand or week names what is near."""
    line("plan", demo, *QUICK)

    skill = line("show", demo, "--skill", "give-and-goo")
    week = line("show", demo, "--week", "13")

    assert (skill.code, week.code) == (2, 2)
    assert 'did you mean "give-and-go"?' in skill.err
    assert "the season has 12 weeks" in week.err


@pytest.mark.parametrize("name", ["backdoor-cut", "Backdoor cut", "backdoor CUT"])
def test_a_skill_is_named_as_pages_name_it(line: Line, demo: Path, name: str) -> None:
    """Pages show names, not ids: either is understood where a skill is asked for."""
    line("plan", demo, *QUICK)

    shown = line("show", demo, "--skill", name)
    why = line("why", demo, name, "--stage", "unopposed", *NOW)

    assert (shown.code, why.code) == (0, 0)
    assert shown.out.startswith("Backdoor cut  Spacing and getting open\n")
    assert why.out.startswith("Backdoor cut\n")


@pytest.mark.parametrize(
    ("words", "zone", "told"),
    [
        ((), "UTC", True),
        (("--country", "IE"), "Europe/Dublin", False),
        (("--timezone", "UTC"), "UTC", False),
    ],
)
def test_a_clock_that_nobody_set_is_told(
    line: Line, tmp_path: Path, words: tuple[str, ...], zone: str, told: bool
) -> None:
    """A season whose country is unknown runs by UTC, which phones would show wrongly: say so."""
    team = ("--team", "Terns", "--ages", "9-10", "--start", "2027-01-11", "--slot", "tue 17:00 75")
    ended = line("new", tmp_path / "terns", *team, *words)

    assert ended.code == 0
    assert ("Clock:   UTC, for no --country was named" in ended.out) is told
    assert f'timezone = "{zone}"' in (tmp_path / "terns" / "season.toml").read_text("utf-8")


def test_gym_times_that_overlap_make_no_season(line: Line, tmp_path: Path) -> None:
    """What `new` writes passes every check, so that this is told before anything is written."""
    slots = ("--slot", "tue 17:00 75", "--slot", "tue 18:00 60")
    team = ("--team", "Terns", "--ages", "9-10", "--start", "2027-01-11")

    ended = line("new", tmp_path / "terns", *team, *slots)

    assert ended.code == 2
    assert "--slot: Tue 12 Jan 18:00-19:00 in gym overlaps slot[1]" in " ".join(ended.err.split())
    assert not (tmp_path / "terns").exists()


def test_a_club_is_no_season(line: Line, tmp_path: Path) -> None:
    """Who names a club's folder where a season is wanted is told so."""
    club = tmp_path / "club"
    assert line("new", club, "--from", "kestrel-quay-club").code == 0

    assert line("plan", club) == Ended(
        1,
        "",
        f"{club}: this is the folder of a club, not of a season; "
        "name the folder of one of its teams, or see `curriculum club --help`\n",
    )


def test_players_are_checked_too(line: Line, demo: Path) -> None:
    """A fault in the list of names is told by the check, not only once somebody is absent."""
    (demo / "players.toml").write_text('players = ["Aoife", 3]\n')

    assert "players[2]" in line("check", demo).out


def test_what_cannot_be_written_is_one_sentence(line: Line, demo: Path, tmp_path: Path) -> None:
    """A folder that is none, or is not there, is told with the place, and nothing else is said."""
    assert line("plan", demo, *QUICK).code == 0
    (tmp_path / "taken").write_text("")
    lost, taken = tmp_path / "lost" / "a.ics", tmp_path / "taken" / "prints"

    assert line("calendar", demo, "--out", lost, *NOW) == Ended(
        1,
        "",
        f"{lost}: cannot be written: no such file or directory; "
        "make the folder first, or name another\n",
    )
    assert line("print", demo, "--out", taken) == Ended(1, "", f"{taken}: not a directory\n")
    assert line("new", taken, "--from", "kestrel-quay-u12") == Ended(
        1,
        "",
        f"{taken}: cannot be written: not a directory; "
        "name another place, or see who may write there\n",
    )


def test_a_calendar_from_an_outdated_plan_says_so(line: Line, demo: Path) -> None:
    """A practice lost since the plan was made is told wherever the plan goes out."""
    assert line("plan", demo, *QUICK).code == 0
    with (demo / "season.toml").open("a") as file:
        file.write('[[no_practice]]\ndate = 2027-01-20\nreason = "floor polish"\n')
    said = (
        f"{demo}/plan.json: warning: the calendar has changed since this plan was made, "
        "1 practice: Wed 20 Jan 17:30 is not held any more (no practice: floor polish); "
        f"bring the plan up to date: curriculum plan {demo}\n"
    )
    told = [line(*words, *NOW) for words in (("calendar", demo), ("sheet", demo))]
    assert [(each.code, said in each.err) for each in told] == [(0, True), (0, True)]

    assert line("plan", demo, *QUICK).code == 0
    assert "changed" not in line("calendar", demo, *NOW).err


def test_no_season_is_one_sentence(line: Line, tmp_path: Path) -> None:
    """An empty folder, and one without a plan, are told what to do."""
    ended = line("plan", tmp_path)

    assert ended.code == 1
    assert len(ended.err.splitlines()) == 1
    assert "season.toml" in ended.err


@pytest.mark.parametrize("option", ["--chart", "--graph", "--week=3", "--skill=give-and-go", "-h"])
def test_everything_fits_80_columns(line: Line, demo: Path, option: str) -> None:
    """No view of the demo is wider than 80 columns when piped."""
    line("plan", demo, *QUICK)

    ended = line("show", demo, option)

    assert [row for row in ended.out.splitlines() if len(row) > 80] == []
    assert ended.out


@pytest.mark.parametrize(
    "option", [(), ("--chart",), ("--graph",), ("--week", "3"), ("--strand", "defence")]
)
def test_every_view_has_data(line: Line, demo: Path, option: tuple[str, ...]) -> None:
    """With --json each view is data that a program can read."""
    line("plan", demo, *QUICK)

    assert json.loads(line("show", demo, *option, "--json").out)


def test_signs_that_a_code_page_lacks_end_nothing(line: Line, demo: Path) -> None:
    """A chart in an encoding without its signs shows question marks in their places."""
    assert line("plan", demo, *QUICK).code == 0

    done = subprocess.run(
        [sys.executable, "-m", "curriculum", "show", str(demo), "--chart"],
        capture_output=True,
        env=os.environ | {"PYTHONIOENCODING": "cp1252"},
        cwd=Path(__file__).parent.parent,
        check=True,
    )

    assert "? taught to the last stage asked  ? review" in done.stdout.decode("cp1252")


def test_a_what_if_has_data_and_writes_nothing(line: Line, demo: Path) -> None:
    """Data hold what changes, what is to be noted and the plan that would be."""
    assert line("plan", demo, *QUICK).code == 0
    before = (demo / "plan.json").read_bytes()

    ended = line("plan", demo, *QUICK, "--what-if", "no 2027-02-10", "--json")
    found = json.loads(ended.out)

    assert [each["was"] for each in found["changes"]["practices"]] == [
        "Wed 10 Feb 17:30, North Gym"
    ]
    assert found["notes"] == [
        (
            "Give and go live pinned to Wed 10 Feb counts for nothing: "
            "no practice is held then any more"
        )
    ]
    assert "2027-02-10" not in [each["date"] for each in found["plan"]["practices"]]
    assert (demo / "plan.json").read_bytes() == before


def test_help_names_every_format(line: Line) -> None:
    """Whoever looks for a format finds its name."""
    words = set(line("schema", "--help").out.replace(",", " ").replace(".", " ").split())

    assert set(FORMATS) <= words


def test_the_plan_keeps_its_schema(line: Line, demo: Path) -> None:
    """plan.json is valid by the JSON Schema that `schema plan` prints (checked by jsonschema)."""
    line("plan", demo, *QUICK)
    schema = json.loads(line("schema", "plan").out)

    plan = json.loads((demo / "plan.json").read_text(encoding="utf-8"))

    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(plan, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**plan, "revision": 0}, schema)


def test_a_date_without_practice_names_its_reason(line: Line, demo: Path) -> None:
    """Asking for the sheet of a closed day tells why, and which practices are near."""
    line("plan", demo, *QUICK)

    ended = line("sheet", demo, "2027-03-17")

    assert ended.code == 1
    assert "public holiday: Saint Patrick's Day" in ended.err
    assert "2027-03-19" in ended.err
