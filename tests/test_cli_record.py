"""`curriculum record` as a coach meets it: options, questions, corrections, and what it writes."""

import csv
import json
import os
import pty
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from tests.command_line import Ended, Line
from tests.record_season import write_season

MIDDAY = ("--now", "2027-01-16T12:00")
WEDNESDAY = "2027-01-13"


@pytest.fixture
def home(line: Line, tmp_path: Path) -> Path:
    """Return the small season, planned, with two players."""
    folder = tmp_path / "season"
    write_season(folder)
    (folder / "players.toml").write_text('players = ["Aoife", "Bran"]', encoding="utf-8")
    assert line("plan", folder, "--effort", "quick").code == 0
    return folder


def test_a_practice_is_recorded_by_options(line: Line, home: Path) -> None:
    """The page says what is recorded and what follows, and the plan stays as it was."""
    plan = (home / "plan.json").read_bytes()

    ended = line(
        "record", home, WEDNESDAY, "--held", "--block", "1=shaky", "--absent", "Bran", *MIDDAY
    )

    assert ended == Ended(
        0,
        "Wednesday 13 January 2027, 17:30, North Gym\n"
        "Held, 75 minutes.\n"
        "  1  NEW    Give and go                             unopposed held, shaky\n"
        "Absent       Bran\n"
        "version 1, saved 2027-01-16 12:00 UTC\n"
        "\n"
        "What follows\n"
        "  - Give and go, unopposed: one block more at this stage\n"
        "\n"
        f"The plan is unchanged. See what should change: curriculum plan {home}\n",
        "",
    )
    assert (home / "plan.json").read_bytes() == plan


def test_the_next_plan_follows(line: Line, home: Path) -> None:
    """The plan that is proposed holds the shaky stage once more, and says that blocks moved."""
    line("record", home, WEDNESDAY, "--held", "--block", "1=shaky", *MIDDAY)

    ended = line("plan", home, "--effort", "quick", *MIDDAY)

    assert ended.code == 0
    assert "Give and go, unopposed 3" in ended.out
    assert "revision 2" in ended.out
    assert line("check", home).code == 0


def test_what_is_past_is_no_fault_of_the_plan(line: Line, home: Path) -> None:
    """As of a moment, what was past by then is left alone: a block of Friday, far too long."""
    line("record", home, WEDNESDAY, "--held", *MIDDAY)
    line("plan", home, "--effort", "quick", *MIDDAY)
    file = home / "plan.json"
    plan = json.loads(file.read_text(encoding="utf-8"))
    plan["practices"][1]["blocks"][0]["minutes"] = 300
    file.write_text(json.dumps(plan), encoding="utf-8")

    before, after = line("check", home, "--now", "2027-01-01T09:00"), line("check", home, *MIDDAY)
    assert "inside the gym time" in before.out
    assert "inside the gym time" not in after.out


def test_without_a_date_the_last_practice_is_meant(line: Line, home: Path) -> None:
    """On Saturday, Friday's practice is recorded."""
    out = line("record", home, "--lost", "ice on the road", *MIDDAY).out.splitlines()

    assert out[:2] == ["Friday 15 January 2027, 17:30, North Gym", "Lost: ice on the road."]


def test_a_conflict_shows_what_stands(line: Line, home: Path) -> None:
    """A coach who has not seen the first version is told it, exits with 1, and loses nothing."""
    line("record", home, WEDNESDAY, "--held", "--by", "Niamh", *MIDDAY)

    late = line("record", home, WEDNESDAY, "--lost", "ice", "--version", "0", *MIDDAY)

    assert late.code == 1
    assert late.out.splitlines()[0] == "Not recorded: somebody else was first"
    assert "version 1, saved 2027-01-16 12:00 UTC by Niamh" in late.out
    history = json.loads(line("record", home, "--history", "--json").out)
    assert [(each["version"], each["entry"]["status"]) for each in history] == [
        (1, "held"),
        (None, "lost"),
    ]


def test_a_correction_over_the_version_seen(line: Line, home: Path) -> None:
    """Without --version the newest one is corrected, and both stay in the history."""
    line("record", home, WEDNESDAY, "--held", *MIDDAY)
    corrected = line("record", home, WEDNESDAY, "--shortened", "40", *MIDDAY)

    assert corrected.out.splitlines()[1] == "Shortened: 40 of 75 minutes held."
    pages = line("record", home, WEDNESDAY, "--history", *MIDDAY).out
    assert [each for each in pages.splitlines() if each.startswith("version")] == [
        "version 1, saved 2027-01-16 12:00 UTC",
        "version 2, saved 2027-01-16 12:00 UTC",
    ]


def test_sent_twice_it_counts_once(line: Line, home: Path) -> None:
    """A submission with an id of its own can be sent again without harm."""
    words = ("record", home, WEDNESDAY, "--held", "--id", "phone-0001", "--version", "0", "--json")

    first, second = line(*words, *MIDDAY), line(*words, *MIDDAY)

    assert (first.code, first.out) == (second.code, second.out)
    assert len(json.loads(line("record", home, "--history", "--json").out)) == 1


def test_json_tells_what_was_recorded(line: Line, home: Path) -> None:
    """The data hold the entry as recorded and what follows from it."""
    words = ("--block", "give-and-go=not yet", "--block", "v-cut=solid", "--id", "phone-0001")
    data = json.loads(line("record", home, WEDNESDAY, "--held", *words, "--json", *MIDDAY).out)

    assert data["recorded"]["version"] == 1
    assert [
        (each["skill"], each["held"], each["went"], each["planned"])
        for each in data["recorded"]["entry"]["blocks"]
    ] == [("give-and-go", "held", "not yet", True), ("v-cut", "held", "solid", False)]
    assert data["follows"] == {"more": [], "due": [["give-and-go", "unopposed"]], "reviews": []}


def test_the_record_is_exported(line: Line, home: Path, tmp_path: Path) -> None:
    """What stands as a table, everything as data; whoever writes it is told what is in it."""
    line("record", home, WEDNESDAY, "--held", "--absent", "Bran", "--note", "=SUM(A1)", *MIDDAY)
    table, data = tmp_path / "out.csv", tmp_path / "out.json"

    ended = [line("record", home, "--export", each) for each in (table, data)]

    assert [each.out for each in ended] == [f"Written: {table}\n", f"Written: {data}\n"]
    assert {each.err for each in ended} == {
        "This file may name children: keep it where others do not look.\n"
    }
    with table.open(newline="", encoding="utf-8") as file:
        (row,) = csv.DictReader(file)
    assert (row["absent"], row["note"]) == ("Bran", "'=SUM(A1)")
    assert json.loads(data.read_text(encoding="utf-8"))[0]["entry"]["note"] == "=SUM(A1)"


def test_the_record_is_backed_up(line: Line, home: Path, tmp_path: Path) -> None:
    """The copy is a record; a second backup to the same place is refused."""
    line("record", home, WEDNESDAY, "--held", *MIDDAY)
    target = tmp_path / "record.db.copy"

    first, second = (line("record", home, "--backup", target) for _ in range(2))

    assert (first.code, first.out) == (0, f"Written: {target}\n")
    assert (second.code, "is not overwritten" in second.err) == (1, True)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--held", "--lost", "ice"), "choose one of --held, --lost and --shortened"),
        (("--block", "1=solid"), "say what became of the practice"),
        ((), "say what became of the practice"),
        (("--held", "--block", "7=solid"), "7 is none of the 1 planned blocks"),
        (("--held", "--block", "1=great"), "is not one of held, solid, shaky"),
        (("--held", "--block", "solid"), "names no block"),
        (("--held", "--block", "zone=solid"), "names no stage"),
        (("--history", "--export", "x.csv"), "choose one of --history, --export and --backup"),
        (("--export", "x.txt"), "ends neither in .csv nor in .json"),
        (("--start", "25:00", "--held"), "is no time of day"),
    ],
)
def test_wrong_usage_exits_with_2(
    line: Line, home: Path, words: tuple[str, ...], says: str
) -> None:
    """What cannot be understood is told in a sentence, and nothing is recorded."""
    ended = line("record", home, WEDNESDAY, *words, *MIDDAY)

    assert (ended.code, says in ended.err) == (2, True)
    assert not (home / "record.db").exists()


def test_faults_exit_with_1(line: Line, home: Path) -> None:
    """A practice that is still to come cannot have been held."""
    ended = line("record", home, "2027-01-20", "--held", *MIDDAY)

    assert ended == Ended(
        1,
        "",
        "this practice has not been held yet (found 2027-01-20); "
        "record it when it has been, or as lost\n",
    )


def test_a_practice_can_be_lost_ahead(line: Line, home: Path) -> None:
    """A practice that is called off is recorded as lost before its date, and planned around."""
    line("record", home, "2027-01-20", "--lost", "Emma is ill", *MIDDAY)

    ended = line("plan", home, "--effort", "quick", *MIDDAY)
    line("calendar", home, "--for", "families", *MIDDAY)

    assert "no practice: called off" in ended.out
    assert "gone  Wed 20 Jan" in ended.out
    for name in ("plan.json", "published.json", "families.ics"):
        assert "Emma" not in (home / name).read_text(encoding="utf-8")


def test_progress_and_load_are_shown(line: Line, home: Path) -> None:
    """Both pages stand on the record; as data they hold the same."""
    line("record", home, WEDNESDAY, "--held", "--block", "1=solid", "--absent", "Bran", *MIDDAY)

    page = line("show", home, "--progress", *MIDDAY).out
    far, missed = json.loads(line("show", home, "--progress", "--json", *MIDDAY).out)
    hours = json.loads(line("show", home, "--load", "--json", *MIDDAY).out)

    assert "1 of 2 past practices recorded. 1 counts as held as planned." in page
    assert far["recorded"] == {
        "past": 2,
        "recorded": 1,
        "lost": 0,
        "shortened": 0,
        "lost_minutes": 0,
    }
    assert missed == [
        {"player": "Bran", "skill": "give-and-go", "date": "2027-01-13", "since": None}
    ]
    assert [week["recorded"] for week in hours["weeks"]] == [1, 0, 0, 0]


def test_an_entry_keeps_its_schema(line: Line, home: Path) -> None:
    """What is recorded is valid by the JSON Schema that `schema record` prints."""
    words = ("record", home, WEDNESDAY, "--lost", "ice on the road", "--json", *MIDDAY)
    entry = json.loads(line(*words).out)["recorded"]["entry"]
    schema = json.loads(line("schema", "record").out)

    jsonschema.validate(entry, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**entry, "status": "forgotten"}, schema)


def answered(home: Path, answers: list[str]) -> str:
    """Record the last practice on a terminal, give the answers, and return what was printed."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "curriculum", "record", str(home), WEDNESDAY, *MIDDAY]
    process = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, close_fds=True)
    os.close(theirs)
    os.write(ours, "".join(f"{answer}\n" for answer in answers).encode())
    printed = b""
    while True:
        try:
            chunk = os.read(ours, 4096)
        except OSError:
            break
        if not chunk:
            break
        printed += chunk
    os.close(ours)
    assert process.wait() == 0, printed.decode()
    return printed.decode().replace("\r\n", "\n")


def test_it_asks_on_a_terminal(line: Line, home: Path) -> None:
    """Without options it asks, takes a beginning of a word, and offers what stands to correct."""
    printed = answered(home, ["held", "sh", "Aoife, Bran", "a loud hall"])

    assert "1 NEW Give and go, unopposed, 8 min [held]: " in printed
    (first,) = json.loads(line("record", home, "--history", "--json").out)
    assert [(each["held"], each["went"]) for each in first["entry"]["blocks"]] == [
        ("held", "shaky")
    ]
    assert (first["entry"]["absent"], first["entry"]["note"]) == (["Aoife", "Bran"], "a loud hall")

    again = answered(home, ["shortened", "40", "", "-", ""])

    assert "1 NEW Give and go, unopposed, 8 min [shaky]: " in again
    second = json.loads(line("record", home, "--history", "--json").out)[1]["entry"]
    assert (second["minutes_held"], second["absent"], second["note"]) == (40, [], "a loud hall")
    assert second["blocks"][0]["went"] == "shaky"
