"""What a team's season takes from its club, and what its own file keeps from it."""

import datetime as dt
from pathlib import Path

from curriculum.club.inherit import goals_of_group, inherit, known_of
from curriculum.club.reading import ClubFiles
from curriculum.models.club import Club, ClubCurriculum, ClubSlots
from curriculum.models.gymtimes import Closure, Holidays, Slot, Venue
from curriculum.models.season import Known, Season
from curriculum.problems import Problem
from curriculum.workspace import open_season
from tests.build import day, goal, season
from tests.club_build import club, columns, reach, slot, slots, team
from tests.test_club_reading import DEMO

NOW = dt.datetime(2026, 9, 1, tzinfo=dt.UTC)
COLUMNS = columns(
    reach("young", unopposed=["stop", "pass"]),
    reach("old", guided=["pass"], live=["cut"]),
)


def files(
    of: Club, curriculum: ClubCurriculum = COLUMNS, times: ClubSlots | None = None
) -> ClubFiles:
    """Return a club's files."""
    return ClubFiles(Path("club"), of, curriculum, times or slots())


def bare(**tables: object) -> Season:
    """Return a season that states neither gym, time nor goal."""
    return season(weekdays=(), **{"venue": (), **tables})  # type: ignore[arg-type]


def test_goals_come_from_the_age_group() -> None:
    """The column is the goals, and what the younger group reaches is known."""
    own = team("a", "old")
    taken = inherit(bare(), own, files(club(own))).season

    assert (taken.goal, taken.known) == (
        (goal("cut", "live", need="should"), goal("pass", "guided", need="should")),
        (Known(skill="pass", stage="unopposed"), Known(skill="stop", stage="unopposed")),
    )


def test_its_own_goals_and_known_stages_stand() -> None:
    """What a season states itself replaces all that the club says of that kind."""
    own = team("a", "old")
    stated = bare(goal=(goal("stop"),), known=(Known(skill="pass", stage="guided"),))
    taken = inherit(stated, own, files(club(own))).season

    assert (taken.goal, taken.known) == (stated.goal, stated.known)


def test_gyms_and_times_come_from_the_club() -> None:
    """The team's weekly times are its slots, on one court with that court's baskets."""
    own = team("a", "old")
    times = slots(slot("a", "mon", "17:00", court="half"), slot("b", "mon", "18:00"))
    taken = inherit(bare(), own, files(club(own), times=times)).season

    assert (taken.venue, taken.slot) == (
        (Venue(id="north", name="North Gym", baskets=2),),
        (
            Slot(
                weekday="monday",
                start=dt.time(17),
                minutes=60,
                venue="north",
                court="half",
                baskets=2,
            ),
        ),
    )


def test_its_own_times_stand() -> None:
    """A season with a slot of its own takes none from the club."""
    own = team("a", "old")
    stated = season()
    taken = inherit(stated, own, files(club(own), times=slots(slot("a", "mon", "17:00")))).season

    assert taken.slot == stated.slot


def test_holidays_and_closures_are_added() -> None:
    """The club's closures stand beside the season's own, those outside its dates left out."""
    own = team("a", "old")
    inside = Closure(from_=day("01-18"), until=day("01-19"), reason="new floor")
    outside = Closure(from_=day("06-01"), until=day("06-02"), reason="summer")
    around = club(own, holidays=Holidays(country="IE"), closure=(inside, outside))
    mine = Closure(from_=day("01-25"), until=day("01-25"), reason="own")
    taken = inherit(bare(closure=(mine,)), own, files(around)).season

    assert (taken.closure, taken.holidays) == ((mine, inside), Holidays(country="IE"))


def test_only_what_is_new_is_a_goal() -> None:
    """A column that repeats or lowers what younger groups reach gives no goal for it."""
    repeating = columns(reach("young", guided=["pass"]), reach("old", unopposed=["pass", "cut"]))
    of = club()

    assert (
        goals_of_group(of, repeating, of.age_group[1]),
        known_of(of, repeating, of.age_group[0]),
    ) == ((goal("cut", need="should"),), ())


def test_a_demo_team_opens_by_itself() -> None:
    """A season folder of the club opens like any other, complete with what the club adds."""
    opening = open_season(DEMO / "u12-boys", NOW)

    assert opening.problems == ()
    assert opening.workspace is not None
    taken = opening.workspace.season
    assert (len(taken.slot), len(taken.venue), taken.holidays, bool(taken.goal)) == (
        2,
        3,
        Holidays(country="IE"),
        True,
    )


def test_its_own_file_says_otherwise_in_the_demo() -> None:
    """The team that stands further on keeps its own four goals."""
    opening = open_season(DEMO / "u14-girls", NOW)

    assert opening.workspace is not None
    assert [each.skill for each in opening.workspace.season.goal] == [
        "backdoor-cut",
        "drive-and-kick",
        "cut-off-screen",
        "help-and-recover",
    ]


def test_a_faulty_club_is_told_with_the_season(tmp_path: Path) -> None:
    """A season in a club whose file is wrong cannot be opened, and the club's fault is told."""
    (tmp_path / "club.toml").write_text("[club]\n", encoding="utf-8")
    (tmp_path / "terns").mkdir()

    found = open_season(tmp_path / "terns", NOW)

    assert found.workspace is None
    assert isinstance(found.problems[0], Problem)
    assert {each.file for each in found.problems} == {str(tmp_path.resolve() / "club.toml")}
