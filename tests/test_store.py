"""Files are replaced whole or not at all, and a plan comes back from its file as it went in."""

import datetime as dt
import json
import random
import signal
import stat
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from curriculum import store
from curriculum.models.plan import (
    Block,
    GoalResult,
    Miss,
    NotHeld,
    Plan,
    PlannedClosure,
    PlannedGame,
    PlannedPractice,
    Proof,
    TierProof,
)
from curriculum.problems import FaultyInputError
from curriculum.store import (
    former_plan,
    plan_bytes,
    plan_mark,
    read_plan,
    replace_plan,
    same_but_time,
    write_atomic,
)

DAY = dt.date(2027, 1, 13)
PLAN = Plan(
    revision=3,
    made=dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC),
    season="terns-winter",
    team="Térns ♥",
    timezone="Europe/Dublin",
    status="optimal",
    proof=Proof(
        tiers=(TierProof(name="musts", value=0, bound=0),),
        practices_needed_at_least=1,
        critical_path_practices=1,
    ),
    practices=(
        PlannedPractice(
            id="2027-01-13-north-gym-1730",
            date=DAY,
            start=dt.time(17, 30),
            end=dt.time(18, 45),
            venue="north-gym",
            week=1,
            teaching_minutes=42,
            blocks=(
                Block(skill="lay-up", stage="guided", number=1, of=2, kind="introduce", minutes=8),
            ),
        ),
    ),
    closures=(PlannedClosure(from_=DAY, until=DAY, reason="painting"),),
)
TEXT = """{
  "format": 1,
  "revision": 3,
  "made": "2027-01-05T09:00:00+00:00",
  "season": "terns-winter",
  "team": "Térns ♥",
  "timezone": "Europe/Dublin",
  "status": "optimal",
  "proof": {
    "tiers": [
      {
        "name": "musts",
        "value": 0,
        "bound": 0
      }
    ],
    "practices_needed_at_least": 1,
    "critical_path_practices": 1
  },
  "practices": [
    {
      "id": "2027-01-13-north-gym-1730",
      "date": "2027-01-13",
      "start": "17:30",
      "end": "18:45",
      "venue": "north-gym",
      "week": 1,
      "teaching_minutes": 42,
      "blocks": [
        {
          "skill": "lay-up",
          "stage": "guided",
          "number": 1,
          "of": 2,
          "kind": "introduce",
          "minutes": 8,
          "drill": null,
          "pinned": false
        }
      ]
    }
  ],
  "not_held": [],
  "games": [],
  "closures": [
    {
      "from": "2027-01-13",
      "until": "2027-01-13",
      "reason": "painting",
      "venue": null
    }
  ],
  "goals": [],
  "misses": []
}
"""

IDS = st.from_regex(r"[a-z0-9]{1,6}(-[a-z0-9]{1,6})?", fullmatch=True)
WORDS = st.text(st.characters(codec="utf-8"), max_size=20)
DATES = st.dates()
CLOCKS = st.times().map(lambda moment: moment.replace(second=0, microsecond=0, fold=0))
ZONES = st.integers(-14 * 60, 14 * 60).map(lambda m: dt.timezone(dt.timedelta(minutes=m)))
SMALL = st.integers(1, 99)
FIRST = dt.datetime(2, 1, 1)  # noqa: DTZ001
LAST = dt.datetime(9998, 1, 1)  # noqa: DTZ001
STAGES = st.sampled_from(["unopposed", "guided", "live"])
NEEDS = st.sampled_from(["must", "should", "could"])
PLANS = st.builds(
    Plan,
    revision=SMALL,
    made=st.datetimes(FIRST, LAST, timezones=ZONES),
    season=IDS,
    team=WORDS,
    timezone=WORDS,
    status=st.sampled_from(["optimal", "feasible", "partial"]),
    proof=st.builds(
        Proof,
        tiers=st.builds(TierProof, name=WORDS, value=st.integers(), bound=st.integers()).map(
            lambda tier: (tier,)
        ),
    ),
    practices=st.lists(
        st.builds(
            PlannedPractice,
            id=WORDS,
            date=DATES,
            start=CLOCKS,
            end=CLOCKS,
            venue=IDS,
            blocks=st.lists(
                st.builds(
                    Block,
                    skill=IDS,
                    stage=STAGES,
                    number=SMALL,
                    of=SMALL,
                    kind=st.sampled_from(["introduce", "build", "review"]),
                    minutes=SMALL,
                    drill=st.none() | WORDS,
                ),
                max_size=2,
            ).map(tuple),
        ),
        max_size=2,
    ).map(tuple),
    not_held=st.lists(st.builds(NotHeld, id=WORDS, date=DATES, why=WORDS), max_size=2).map(tuple),
    games=st.lists(
        st.builds(PlannedGame, id=IDS, date=DATES, start=CLOCKS, opponent=WORDS), max_size=2
    ).map(tuple),
    closures=st.lists(
        st.builds(PlannedClosure, from_=DATES, until=DATES, reason=WORDS), max_size=2
    ).map(tuple),
    goals=st.lists(
        st.builds(
            GoalResult, skill=IDS, stage=STAGES, by=DATES, need=NEEDS, reached=st.none() | DATES
        ),
        max_size=2,
    ).map(tuple),
    misses=st.lists(
        st.builds(Miss, skill=IDS, stage=STAGES, why=WORDS, remedies=st.lists(WORDS).map(tuple)),
        max_size=2,
    ).map(tuple),
)


def told(path: Path) -> list[str]:
    """Return the problems of reading a plan that cannot be read, its folder left out."""
    plan, problems = read_plan(path)
    assert plan is None
    return [str(each).replace(f"{path.parent}/", "") for each in problems]


def leftovers(folder: Path) -> list[str]:
    """Return the names of temporary files in a folder."""
    return sorted(path.name for path in folder.glob(".*.tmp"))


def test_a_plan_as_its_file() -> None:
    """Keys stand in the order of the format, two spaces deep, letters as they are."""
    assert plan_bytes(PLAN).decode() == TEXT


@settings(deadline=None)
@given(PLANS)
def test_a_plan_comes_back_as_it_was(tmp_path_factory: pytest.TempPathFactory, plan: Plan) -> None:
    """Writing and reading any plan gives an equal plan and equal bytes."""
    path = tmp_path_factory.getbasetemp() / "round.json"
    write_atomic(path, plan_bytes(plan))

    again, problems = read_plan(path)

    assert problems == ()
    assert again == plan
    assert plan_bytes(again) == path.read_bytes()


def test_the_time_alone_is_no_difference() -> None:
    """Plans that differ in their time and revision say the same; anything else differs."""
    later = PLAN.model_copy(update={"made": PLAN.made + dt.timedelta(days=1), "revision": 4})

    assert same_but_time(PLAN, later)
    assert not same_but_time(PLAN, PLAN.model_copy(update={"status": "feasible"}))
    assert not same_but_time(PLAN, PLAN.model_copy(update={"practices": ()}))


def test_a_missing_plan(tmp_path: Path) -> None:
    """Where no plan is, it is said how one is made; a folder is none."""
    assert told(tmp_path / "plan.json") == ['plan.json: there is no plan; run "curriculum plan"']

    (tmp_path / "plan.json").mkdir()

    assert told(tmp_path / "plan.json") == [
        (
            "plan.json: is a folder, not a plan; "
            'bring back a saved copy, or delete it and run "curriculum plan"'
        )
    ]


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "plan.json: is empty"),
        (b"\xff\xfe{", "plan.json: is not UTF-8 text, so no plan"),
        (TEXT.encode()[:100], "plan.json:5: the plan ends too early, in column 28"),
        (
            b'{"format": 1,\n "revision": x}',
            'plan.json:2: the plan is not JSON from column 14 on (found "revision": x})',
        ),
        (b"[" * 100_000, "plan.json: is no plan of this program"),
        (b"[1, 2]", "plan.json:1: is no plan of this program: it states no format"),
        (b'{"a": 1}', "plan.json:1: is no plan of this program: it states no format"),
        (b'{\n"format": "1"}', 'plan.json:2: format: must be 1 (found "1")'),
        (b'{\n"format": true}', "plan.json:2: format: must be 1 (found true)"),
        (b'{\n"format": 0}', "plan.json:2: format: must be 1 (found 0)"),
    ],
)
def test_torn_and_foreign_files(content: bytes, sentence: str, tmp_path: Path) -> None:
    """What is no plan is told where it stops being one, with the way out."""
    path = tmp_path / "plan.json"
    path.write_bytes(content)

    way_out = 'bring back a saved copy, or delete it and run "curriculum plan"'

    assert told(path) == [f"{sentence}; {way_out}"]


def test_every_torn_plan_is_told(tmp_path: Path) -> None:
    """A plan cut short anywhere before its last brace is one problem, whatever the place."""
    path = tmp_path / "plan.json"
    whole = TEXT.encode()
    last = whole.rindex(b"}")
    counts = []
    for length in range(0, last, 7):
        path.write_bytes(whole[:length])
        counts.append(len(told(path)))

    assert set(counts) == {1}


def test_a_plan_of_a_newer_program(tmp_path: Path) -> None:
    """A later format says which program this is and which one is needed."""
    path = tmp_path / "plan.json"
    path.write_text(TEXT.replace('"format": 1', '"format": 2'), encoding="utf-8")
    version = metadata.version("curriculum")

    assert told(path) == [
        (
            f"plan.json:2: format: this plan needs a program newer than version {version}, which "
            "reads format 1 (found 2); update the program, or make the plan afresh"
        )
    ]


def test_faults_in_a_plan_have_their_lines(tmp_path: Path) -> None:
    """A plan edited by hand is told like any other file, all faults at once."""
    path = tmp_path / "plan.json"
    text = TEXT.replace('"week": 1', '"week": "1"').replace('"guided"', '"guidet"')
    path.write_text(text.replace('"minutes": 8', '"minuts": 8'), encoding="utf-8")

    way_out = 'bring back a saved copy, or delete it and run "curriculum plan"'
    faults = [
        'plan.json:27: practices[1].week: must be a whole number (found "1")',
        (
            "plan.json:32: practices[1].blocks[1].stage: must be one of "
            '"unopposed", "guided" or "live" (found "guidet")'
        ),
        "plan.json:36: practices[1].blocks[1].minuts: [[practices.blocks]] has no such key",
    ]
    assert told(path) == [f"{fault}; {way_out}" for fault in faults]


def test_writing_replaces_the_whole_file(tmp_path: Path) -> None:
    """The new content stands alone, and nothing else is left in the folder."""
    path = tmp_path / "plan.json"
    write_atomic(path, b"a longer content than the next")
    write_atomic(path, b"short")

    assert path.read_bytes() == b"short"
    assert [each.name for each in tmp_path.iterdir()] == ["plan.json"]


def test_a_file_keeps_its_permissions_and_its_link(tmp_path: Path) -> None:
    """Who may read a file does not change, and a link goes on pointing to the file written."""
    path, link = tmp_path / "real.json", tmp_path / "plan.json"
    path.write_bytes(b"old")
    path.chmod(0o640)
    link.symlink_to(path)

    write_atomic(link, b"new")

    assert (path.read_bytes(), link.is_symlink()) == (b"new", True)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_failed_write_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the disk refuses, the error is raised, the old content stands and nothing is left."""
    path = tmp_path / "plan.json"
    path.write_bytes(b"old")

    def refuse(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("curriculum.store.os.fsync", refuse)

    with pytest.raises(FaultyInputError, match="no space left on device; make room"):
        write_atomic(path, b"new")
    assert path.read_bytes() == b"old"
    assert leftovers(tmp_path) == []


def test_only_its_own_abandoned_files_are_removed(tmp_path: Path) -> None:
    """What a killed writer of this file left goes; files of others and of living writers stay."""
    path = tmp_path / "plan.json"
    for name in (".plan.json.dead.tmp", ".other.json.dead.tmp", "plan.json.tmp", ".plan.json.tmp"):
        (tmp_path / name).write_bytes(b"half")
    living = tmp_path / ".plan.json.live.tmp"
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(living)], stdout=subprocess.PIPE, stdin=subprocess.PIPE
    )
    assert holder.stdout is not None
    assert holder.stdout.readline() == b"held\n"

    write_atomic(path, b"whole")
    holder.communicate(b"\n")

    names = [".other.json.dead.tmp", ".plan.json.live.tmp", ".plan.json.tmp", "plan.json.tmp"]
    assert sorted(each.name for each in tmp_path.iterdir()) == [*names[:3], "plan.json", names[3]]


HOLD = """
import fcntl, sys
file = open(sys.argv[1], "wb")
fcntl.flock(file, fcntl.LOCK_EX)
print("held", flush=True)
sys.stdin.readline()
"""
WRITER = """
import sys
from pathlib import Path
from curriculum.store import write_atomic
path, number = Path(sys.argv[1]), 0
print("ready", flush=True)
while True:
    number += 1
    write_atomic(path, (f"{number}\\n" * 20_000).encode())
"""


def test_a_killed_writer_never_leaves_a_torn_file(tmp_path: Path) -> None:
    """Whenever a writer is killed, the file is one whole content; the next write clears up."""
    path = tmp_path / "plan.json"
    write_atomic(path, b"0\n" * 20_000)
    wait = random.Random(7)
    killed_within = 0
    for _ in range(25):
        writer = subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE)
        assert writer.stdout is not None
        assert writer.stdout.readline() == b"ready\n"
        # The kill falls anywhere within a few writes; no result depends on how long they take.
        signal.sigtimedwait([], wait.uniform(0, 0.02))
        writer.kill()
        writer.communicate()
        lines = path.read_bytes().split(b"\n")
        assert (len(lines), len(set(lines[:-1])), lines[-1]) == (20_001, 1, b"")
        killed_within += bool(leftovers(tmp_path))

    assert killed_within > 0
    write_atomic(path, b"end")
    assert (path.read_bytes(), leftovers(tmp_path)) == (b"end", [])


def test_writers_at_once_leave_one_whole_file(tmp_path: Path) -> None:
    """Four writers at the same file disturb neither each other nor a reader."""
    path = tmp_path / "plan.json"
    write_atomic(path, b"0\n" * 20_000)
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE)
        for _ in range(4)
    ]
    for writer in writers:
        assert writer.stdout is not None
        assert writer.stdout.readline() == b"ready\n"

    seen = [path.read_bytes().split(b"\n") for _ in range(60)]
    alive = [writer.poll() for writer in writers]
    for writer in writers:
        writer.kill()
        writer.communicate()

    assert {(len(lines), len(set(lines[:-1]))) for lines in seen} == {(20_001, 1)}
    assert alive == [None] * 4


def test_json_keeps_letters_and_refuses_what_is_no_number() -> None:
    """JSON is UTF-8 with its keys in their order; infinity is none of its numbers."""
    assert store.json_bytes({"b": "é", "a": [1]}) == (
        '{\n  "b": "é",\n  "a": [\n    1\n  ]\n}\n'.encode()
    )
    assert json.loads(store.json_bytes(None)) is None
    with pytest.raises(ValueError, match="not JSON compliant"):
        store.json_bytes(float("inf"))


def test_a_plan_takes_the_place_of_the_one_it_was_made_from(tmp_path: Path) -> None:
    """Of no plan or of the one that stands; what it replaced can still be read."""
    path = tmp_path / "plan.json"
    second, third = (PLAN.model_copy(update={"revision": number}) for number in (2, 3))

    assert (former_plan(path), replace_plan(path, plan_bytes(PLAN), "")) == (None, True)
    assert former_plan(path) is None
    assert replace_plan(path, plan_bytes(second), plan_mark(path))
    assert (read_plan(path)[0], former_plan(path)) == (second, PLAN)
    assert replace_plan(path, plan_bytes(third), plan_mark(path))
    assert (read_plan(path)[0], former_plan(path)) == (third, second)
    proved = third.model_copy(update={"made": third.made + dt.timedelta(days=1)})
    assert replace_plan(path, plan_bytes(proved), plan_mark(path))
    assert (read_plan(path)[0], former_plan(path)) == (proved, second)


def test_a_faulty_plan_gives_way_to_a_new_one(tmp_path: Path) -> None:
    """What is no plan at all is replaced too, and is no former plan."""
    path = tmp_path / "plan.json"
    path.write_bytes(b"[]")

    assert replace_plan(path, plan_bytes(PLAN), plan_mark(path))
    assert (read_plan(path)[0], former_plan(path)) == (PLAN, None)


@pytest.mark.parametrize("stands", [True, False])
def test_a_plan_that_comes_too_late_is_not_written(tmp_path: Path, stands: bool) -> None:
    """The plan that it was made from has given way to another one, or was deleted."""
    path = tmp_path / "plan.json"
    replace_plan(path, plan_bytes(PLAN), "")
    mark = plan_mark(path)
    if stands:
        other = plan_bytes(PLAN.model_copy(update={"revision": 8}))
        assert replace_plan(path, other, mark)
    else:
        path.unlink()
    before = path.read_bytes() if stands else None

    assert not replace_plan(path, plan_bytes(PLAN.model_copy(update={"revision": 9})), mark)
    assert (path.read_bytes() if path.exists() else None) == before


RIVAL = """
import sys
from pathlib import Path
from curriculum.store import plan_bytes, plan_mark, replace_plan
from tests.sample_plan import PLAN

path, mine = Path(sys.argv[1]), int(sys.argv[2])
won = 0
for number in range(int(sys.argv[3])):
    mark = plan_mark(path)
    revision = int(path.read_text().split('"revision": ')[1].split(",")[0]) + 1
    data = plan_bytes(PLAN.model_copy(update={"revision": revision}))
    won += replace_plan(path, data, mark)
print(won)
"""


def test_of_rivals_at_once_each_plan_follows_the_one_it_was_made_from(tmp_path: Path) -> None:
    """Three processes put plans in force one upon the other: as many revisions as were accepted.

    Were two accepted over the same plan, one revision would be counted twice.
    """
    path, rivals, rounds = tmp_path / "plan.json", 3, 25
    write_atomic(path, plan_bytes(PLAN.model_copy(update={"revision": 1})))
    running = [
        subprocess.Popen(
            [sys.executable, "-c", RIVAL, path, f"{rival}", f"{rounds}"],
            cwd=Path(__file__).parent.parent,
            stdout=subprocess.PIPE,
            text=True,
        )
        for rival in range(rivals)
    ]
    accepted = sum(int(each.communicate()[0]) for each in running)
    plan, problems = read_plan(path)

    assert problems == ()
    assert plan is not None
    assert (plan.revision, accepted >= rounds) == (accepted + 1, True)
