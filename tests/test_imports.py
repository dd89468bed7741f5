"""Foreign calendars become closures, games and practices of a season, each entry accounted for."""

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from curriculum.gym.imports.found import Found, Item
from curriculum.gym.imports.imported import Imported, imported, placed, with_imported
from curriculum.gym.imports.sides import Sides, sides_of, slug
from curriculum.gym.imports.told import change_lines, report_lines
from curriculum.gym.slots import calendar_of
from curriculum.models.calendars import CalendarIn
from curriculum.models.gymtimes import Closure, PracticeOn, Slot
from curriculum.models.season import Frame, Game, Season
from curriculum.problems import Problem
from tests.ical_import import calendar, event
from tests.ical_season import season

CASES = Path(__file__).parent / "cases" / "calendars"
GAMES = CalendarIn(file="league.csv", means="games")
SCHOOL = CalendarIn(file="school.ics", means="closures", only=("closed",))
GYM = CalendarIn(file="north-gym.ics", means="closures", venue="north-gym")


def winter(*calendars: CalendarIn, **tables: Any) -> Season:
    """Return a season with practices on Wednesdays in the north gym, 17:30 to 18:45."""
    slot = Slot(weekday="wednesday", start=dt.time(17, 30), minutes=75, venue="north-gym")
    return season(**{"slot": (slot,), "game": (), "calendar": calendars, **tables})


def write(folder: Path, name: str, data: bytes | str) -> Path:
    """Write a file into a folder and return the folder."""
    (folder / name).write_bytes(data.encode() if isinstance(data, str) else data)
    return folder


def day(text: str) -> dt.date:
    """Return a date of 2027, written `01-13`."""
    return dt.date.fromisoformat(f"2027-{text}")


def told(found: Imported) -> list[tuple[str, str]]:
    """Return title and fate of every entry."""
    return [(i.title, i.became or i.why) for file in found.report.files for i in file.items]


def test_a_fixture_list_becomes_games() -> None:
    """Home and away, our gym or an address, lengths, and ids that goals can name."""
    found = imported(winter(GAMES), CASES)

    assert (
        found.games
        == (
            Game(
                id="harbour-light",
                date=day("01-16"),
                start=dt.time(10),
                opponent="Harbour Light",
                venue="north-gym",
            ),
            Game(
                id="otter-sands-away",
                date=day("01-23"),
                start=dt.time(11, 30),
                opponent="Otter Sands",
                home=False,
                address="Sand Hall, 5 Dune Street",
            ),
            Game(
                id="harbour-light-away",
                date=day("03-27"),
                start=dt.time(14),
                minutes=75,
                opponent="Harbour Light",
                home=False,
            ),
        )
        or found.games[1].address == "Sand Hall"
    )


def test_every_row_of_a_fixture_list_is_accounted_for() -> None:
    """Used, not ours, or skipped with its reason; what was assumed is said once."""
    (report,) = imported(winter(GAMES), CASES).report.files

    assert report.items == (
        Item(3, "Kestrel Quay - Harbour Light", "Sat 16 Jan 10:00", "used", "", "harbour-light"),
        Item(4, "Otter Sands - Kestrel Quay", "Sat 23 Jan 11:30", "used", "", "otter-sands-away"),
        Item(5, "Stour Bay - Kestrel Quay", "", "skipped", "'TBC' is no time of day"),
        Item(
            *(6, "Stour Bay - Otter Sands", "Sat 6 Feb 09:00", "skipped"),
            "our team does not play in it",
        ),
        Item(
            *(7, "Harbour Light - Kestrel Quay", "Sat 27 Mar 14:00-15:15", "used"),
            *("", "harbour-light-away"),
        ),
    )
    assert report.remarks == (
        (0, "columns understood: date, start, home, away, venue"),
        (
            3,
            (
                "2 entries: no end is stated, 60 minutes taken;"
                " set minutes in this [[calendar]] for another length"
            ),
        ),
    )


def test_a_school_calendar_becomes_closures() -> None:
    """Only what the season file asks for counts; the end of a span is the day before its DTEND."""
    found = imported(winter(SCHOOL), CASES)

    assert found.closures == (
        Closure(from_=day("02-15"), until=day("02-19"), reason="Half-term: school closed"),
        Closure(from_=day("03-17"), until=day("03-17"), reason="St Patrick's Day: school closed"),
    )
    assert told(found)[2] == ("Book fair", "its title holds none of the texts in `only`")
    assert found.report.files[0].outside == 1


def test_hours_in_a_gym_calendar_close_the_practices_they_touch() -> None:
    """One evening is closed; one is cancelled, one in the morning touches nothing."""
    found = imported(winter(GYM), CASES)

    assert found.closures == tuple(
        Closure(
            from_=day(date), until=day(date), reason="School play, 17:00-20:00", venue="north-gym"
        )
        for date in ("01-13", "02-10")
    )
    assert told(found) == [
        ("School play", "no practice on Wed 13 Jan in north-gym"),
        ("School play", "no practice on Wed 10 Feb in north-gym"),
        ("School play", "it is cancelled"),
        ("Cleaning", "no practice then"),
        ("Floor repair", "its start is not understood: DTSTART is 'next week'"),
    ]


def test_warnings_name_the_file_and_the_line() -> None:
    """Doubts and skipped entries are warnings; what is as it should be is none."""
    says = "skipped 1 of 5 entries, first this one: "
    why = "its start is not understood: DTSTART is 'next week'"
    way_out = "see them all with `curriculum calendar --import`"
    path = str(CASES / "north-gym.ics")

    assert imported(winter(GYM), CASES).problems == (
        Problem(path, 26, "", says + why, "Floor repair", way_out, "warning"),
    )


def test_the_season_with_its_calendars_gives_the_gym_calendar() -> None:
    """What was imported acts like what the coach wrote."""
    plain = winter(GAMES, SCHOOL, GYM)
    whole = with_imported(plain, imported(plain, CASES))
    gym = calendar_of(whole)

    off = {one.date.isoformat()[5:]: one.why for one in gym.not_held}
    assert off == {
        "01-13": "gym closed: School play, 17:00-20:00",
        "02-10": "gym closed: School play, 17:00-20:00",
        "02-17": "gym closed: Half-term: school closed",
        "03-17": "gym closed: St Patrick's Day: school closed",
    }
    assert [game.id for game in gym.games] == [
        *("harbour-light", "otter-sands-away", "harbour-light-away"),
    ]


def test_what_clashes_is_located_in_its_own_file() -> None:
    """An imported game that overlaps a practice is reported at its line of the fixture list."""
    extra = PracticeOn(date=day("01-16"), start=dt.time(9, 30), minutes=60, venue="north-gym")
    plain = winter(GAMES, practice_on=(extra,))
    found = imported(plain, CASES)
    problems = placed(calendar_of(with_imported(plain, found)).problems, found)

    assert (str(CASES / "league.csv"), 3, "") in [(p.file, p.line, p.key) for p in problems]
    assert [p.key for p in problems if p.key.startswith("practice_on")] == ["practice_on[1].date"]


def test_importing_twice_gives_the_same() -> None:
    """A second reading of the same files changes nothing."""
    plain = winter(GAMES, SCHOOL, GYM)
    once, twice = imported(plain, CASES), imported(plain, CASES)

    assert (once == twice, change_lines(once, twice)) == (True, ())


def test_games_that_the_season_states_already_are_not_doubled() -> None:
    """The coach's own table goes before the fixture list."""
    own = Game(id="cup", date=day("01-16"), start=dt.time(10), opponent="Harbour Light")
    found = imported(winter(GAMES, game=(own,)), CASES)

    assert told(found)[0] == (
        "Kestrel Quay - Harbour Light",
        "it stands in the season already, as game cup",
    )
    assert [game.id for game in found.games] == ["otter-sands-away", "harbour-light-away"]


def test_two_files_do_not_double_a_game(tmp_path: Path) -> None:
    """The league's list and the club's calendar may both hold it."""
    folder = write(tmp_path, "league.csv", (CASES / "league.csv").read_bytes())
    title = "Kestrel Quay v Harbour Light"
    write(folder, "club.ics", calendar(event("DTSTART:20270116T100000Z", title=title)))
    found = imported(winter(GAMES, CalendarIn(file="club.ics", means="games")), folder)

    assert len(found.games) == 3
    assert told(found)[-1] == (title, "it stands in the season already, as game harbour-light")


def test_two_games_against_one_team_on_one_day(tmp_path: Path) -> None:
    """A tournament's file may have a second game; the same time in it is the same game."""
    rows = ("10:00,Harbour Light", "14:00,Harbour Light", "14:00,Harbour Light")
    text = "Date,Time,Opponent\n" + "".join(f"16/01/2027,{row}\n" for row in rows)
    found = imported(winter(GAMES), write(tmp_path, "league.csv", text))

    assert [(game.id, game.start) for game in found.games] == [
        ("harbour-light", dt.time(10)),
        ("harbour-light-2", dt.time(14)),
    ]
    assert told(found)[-1][1] == "it stands in the season already, as game harbour-light-2"


def test_a_calendars_game_is_named_after_its_opponent(tmp_path: Path) -> None:
    """Whatever ending the file of a calendar has."""
    data = calendar(event("DTSTART:20270116T100000Z", title="Kestrel Quay v Harbour Light"))
    for name in ("club.ics", "club.ical", "club.icalendar"):
        entry = CalendarIn(file=name, means="games")
        found = imported(winter(entry), write(tmp_path, name, data))
        assert [game.id for game in found.games] == ["harbour-light"]


@pytest.mark.parametrize("turned", [False, True])
def test_closed_hours_fall_on_practices_of_every_file(tmp_path: Path, turned: bool) -> None:
    """In whichever order the season names its files; what is told keeps that order."""
    hours = calendar(event("DTSTART:20270114T170000Z", "DURATION:PT1H", title="Hours"))
    play = calendar(event("DTSTART:20270114T173000Z", "DURATION:PT1H"))
    write(write(tmp_path, "hours.ics", hours), "play.ics", play)
    entries = [
        CalendarIn(file="hours.ics", means="practices", venue="north-gym"),
        CalendarIn(file="play.ics", means="closures", venue="north-gym"),
    ]
    entries = entries[::-1] if turned else entries
    found = imported(winter(*entries), tmp_path)

    assert [one.from_ for one in found.closures] == [day("01-14")]
    assert [file.file for file in found.report.files] == [entry.file for entry in entries]


def test_a_list_without_our_team_says_which_teams_it_has() -> None:
    """The name in the list is often another than the coach's."""
    found = imported(winter(replace_team(GAMES, "Kestrel Quay U12")), CASES)

    assert [(p.says, p.way_out, p.level) for p in found.problems if p.level == "error"] == [
        (
            "no game of 'Kestrel Quay U12' is in it",
            (
                "set team in this [[calendar]] as the file writes it:"
                " Harbour Light, Kestrel Quay, Otter Sands, Stour Bay"
            ),
            "error",
        )
    ]


def replace_team(entry: CalendarIn, team: str) -> CalendarIn:
    """Return an entry with another name of our team."""
    return entry.model_copy(update={"team": team})


def test_a_number_of_the_list_is_the_games_lasting_id(tmp_path: Path) -> None:
    """A game that is moved keeps the id that its number gives it."""
    text = "No,Date,Time,Opponent\n17,{},10:00,Harbour Light\n"
    ids = []
    for date in ("16/01/2027", "30/01/2027"):
        write(tmp_path, "league.csv", text.format(date))
        ids += [game.id for game in imported(winter(GAMES), tmp_path).games]

    assert ids == ["game-17", "game-17"]


def test_practices_of_a_gyms_calendar(tmp_path: Path) -> None:
    """New ones are added; the one that a slot holds already is not; places are recognised."""
    data = calendar(
        event("DTSTART:20270114T170000Z", "DURATION:PT1H", "LOCATION:South Gym", uid="1"),
        event("DTSTART:20270113T173000Z", "DURATION:PT75M", "LOCATION:North Gym", uid="2"),
        event("DTSTART:20270116T170000Z", "DURATION:PT1H", "LOCATION:Town Hall", uid="3"),
        event("DTSTART;VALUE=DATE:20270118", uid="4"),
    )
    entry = CalendarIn(file="hours.ics", means="practices")
    found = imported(winter(entry), write(tmp_path, "hours.ics", data))

    assert found.practices == (
        PracticeOn(date=day("01-14"), start=dt.time(17), minutes=60, venue="south-gym"),
    )
    assert [became for _, became in told(found)] == [
        "practice in south-gym",
        "it stands in the season already",
        "it names none of the season's gyms; set venue in this [[calendar]]",
        "it has no time of day; write it into season.toml by hand",
    ]


@pytest.mark.parametrize(
    ("free_time", "closures", "remarks"), [("count", 1, 0), ("skip", 0, 0), (None, 1, 1)]
)
def test_entries_marked_as_free_time(
    tmp_path: Path, free_time: Any, closures: int, remarks: int
) -> None:
    """School calendars mark holidays so; the coach decides, and is asked until then."""
    data = calendar(event("DTSTART;VALUE=DATE:20270317", "TRANSP:TRANSPARENT"))
    entry = CalendarIn(file="x.ics", means="closures", free_time=free_time)
    found = imported(winter(entry), write(tmp_path, "x.ics", data))

    assert (len(found.closures), len(found.problems)) == (closures, remarks)


@pytest.mark.parametrize(
    ("entry", "file", "key", "says"),
    [
        (CalendarIn(file="none.ics", means="games"), "", "calendar[1].file", "no such file"),
        (
            CalendarIn(file="league.csv", means="games", venue="east-gym"),
            *("", "calendar[1].venue", "there is no such gym"),
        ),
        (
            CalendarIn(file="league.csv", means="games", timezone="Mars/Olympus"),
            *("", "calendar[1].timezone", "no such time zone"),
        ),
    ],
)
def test_faults_of_the_season_file_are_located_there(
    entry: CalendarIn, file: str, key: str, says: str
) -> None:
    """A wrong name of a file, gym or zone is an error at its key."""
    found = [p for p in imported(winter(entry), CASES).problems if p.level == "error"]

    assert [(p.file, p.key, says in p.says) for p in found] == [(file, key, True)]


def test_a_file_that_is_refused_leaves_the_others_usable(tmp_path: Path) -> None:
    """Its fault is an error with file, and the report says that it was refused."""
    folder = write(tmp_path, "school.ics", "<html>sign in</html>")
    write(folder, "league.csv", (CASES / "league.csv").read_bytes())
    found = imported(winter(SCHOOL, GAMES), folder)

    assert (len(found.closures), len(found.games)) == (0, 3)
    assert [(p.file, p.level) for p in found.problems if p.level == "error"] == [
        (str(folder / "school.ics"), "error")
    ]
    assert found.report.files[0].refused.startswith("this is no calendar file")


def test_a_file_named_twice_is_a_warning() -> None:
    """Its entries would count twice."""
    found = imported(winter(SCHOOL, SCHOOL), CASES)

    assert ("calendar[2].file", "warning") in [(p.key, p.level) for p in found.problems]


def test_a_preview_reads_other_entries_than_the_seasons() -> None:
    """What would come of a file can be seen before the season names it."""
    assert imported(winter(), CASES, [SCHOOL]).closures == imported(winter(SCHOOL), CASES).closures


def test_the_report_in_lines() -> None:
    """Everything understood, everything skipped with its reason, every remark."""
    assert list(report_lines(imported(winter(SCHOOL, GYM), CASES).report)) == [
        "school.ics (closures): 2 understood, 1 skipped, 1 outside the season",
        "  line 5: Mon 15 Feb to Fri 19 Feb Half-term: school closed -> closed, every gym",
        "  line 11: Wed 17 Mar St Patrick's Day: school closed -> closed, every gym",
        "  line 17: Sat 20 Mar Book fair skipped: its title holds none of the texts in `only`",
        (
            "  line 11: St Patrick's Day: school closed: it is marked as free time and counts all"
            ' the same; write free_time = "count" or "skip"'
        ),
        "north-gym.ics (closures): 3 understood, 2 skipped, 0 outside the season",
        "  line 4: Wed 13 Jan 17:00-20:00 School play -> no practice on Wed 13 Jan in north-gym",
        "  line 4: Wed 10 Feb 17:00-20:00 School play -> no practice on Wed 10 Feb in north-gym",
        "  line 20: Fri 15 Jan 09:00-12:00 Cleaning -> no practice then",
        "  line 12: Wed 27 Jan 17:00-20:00 School play skipped: it is cancelled",
        "  line 26: Floor repair skipped: its start is not understood: DTSTART is 'next week'",
    ]


def test_changes_of_a_second_reading(tmp_path: Path) -> None:
    """Added, changed and removed, each in one line."""
    text = (CASES / "league.csv").read_text()
    before = imported(winter(GAMES), write(tmp_path, "league.csv", text))
    later = text.replace("16/01/2027;10:00", "16/01/2027;12:00").replace("TBC", "9:30")
    later = "\n".join(line for line in later.splitlines() if "27/03" not in line)
    after = imported(winter(GAMES), write(tmp_path, "league.csv", later))

    assert change_lines(before, after) == (
        "added: Sat 6 Feb 09:30 Stour Bay, Bay Hall",
        (
            "changed: Sat 16 Jan 10:00 Harbour Light, north-gym"
            " -> Sat 16 Jan 12:00 Harbour Light, north-gym"
        ),
        "removed: Sat 27 Mar 14:00 Harbour Light, away",
    )


PLAIN = Found(
    key="1", title="", line=1, start=dt.datetime.combine(day("01-16"), dt.time(10)), end=None
)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"home": "Kestrel Quay", "away": "Otters"}, Sides("Otters", home=True)),
        ({"home": "Otters", "away": "KESTREL-QUAY"}, Sides("Otters", home=False)),
        ({"home": "Otters", "away": "Kestrel Quay B"}, None),
        ({"home": "Otters", "away": "Gulls"}, None),
        ({"opponent": "Otters", "side": "H"}, Sides("Otters", home=True)),
        ({"opponent": "Otters", "side": "away"}, Sides("Otters", home=False)),
        ({"opponent": "Otters"}, Sides("Otters", home=True, sure=False)),
        ({"title": "Kestrel Quay v Otters"}, Sides("Otters", home=True)),
        ({"title": "Otters vs. Kestrel Quay (girls)"}, Sides("Otters", home=False)),
        ({"title": "Otters – Kestrel Quay"}, Sides("Otters", home=False)),
        ({"title": "Kestrel Quay @ Otters"}, Sides("Otters", home=False)),
        ({"title": "Otters at Kestrel Quay"}, Sides("Otters", home=True)),
        ({"title": "at Otters"}, Sides("Otters", home=False)),
        ({"title": "Cup final"}, Sides("Cup final", home=True, sure=False)),
    ],
)
def test_who_plays_where(changes: dict[str, str], expected: Sides | None) -> None:
    """Columns, a column for home and away, or a title; what does not say is marked unsure."""
    assert sides_of(replace(PLAIN, **changes), "Kestrel Quay") == expected  # type: ignore[arg-type]


def test_a_season_in_an_unknown_zone_imports_nothing() -> None:
    """The zone is reported elsewhere; here nothing can be dated."""
    assert imported(winter(GAMES).model_copy(update={"season": lost_zone()}), CASES) == Imported()


def lost_zone() -> Frame:
    """Return a season's frame with a zone that does not exist."""
    return winter().season.model_copy(update={"timezone": "Mars/Olympus"})


@pytest.mark.parametrize(
    ("text", "expected"),
    [("Harbour Light", "harbour-light"), ("Żółw & Söhne", "zolw-sohne"), ("한글", "game")],
)
def test_ids_of_games(text: str, expected: str) -> None:
    """Letters of an id only; a name in other letters gets a plain word."""
    assert slug(text) == expected
