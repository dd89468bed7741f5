"""Calendars over time: unchanged bytes, counts that only grow, practices that move and are lost."""

import datetime as dt
import re

import pytest

from curriculum.ledger import Ledger
from curriculum.models.calendars import CalendarOut
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.outputs.ical.entries import Audience
from curriculum.outputs.ical.feed import PLAIN, View, calendar_bytes, calendar_objects
from curriculum.outputs.ical.lint import lint
from tests.ical_season import (
    LATER,
    LIBRARY,
    NOW,
    block,
    closure,
    cup,
    lost,
    plan,
    practice,
    season,
)

EMPTY = Ledger(season="kestrel-quay-test")
UID_13 = "da294db3-cef9-507c-b5b8-d980e890983b"
UID_15 = "3b4da89a-8bf3-574a-9996-de8199e04f97"


def render(
    planned: Plan,
    ledger: Ledger = EMPTY,
    now: dt.datetime = NOW,
    audience: Audience = "coach",
    view: View = PLAIN,
    of: Season | None = None,
) -> tuple[dict[str, dict[str, str]], Ledger]:
    """Return the events of a calendar by UID, each by property, and the ledger after it."""
    data, after = calendar_bytes(planned, of or season(), LIBRARY, ledger, now, audience, view)
    assert lint(data) == ()
    unfolded = data.decode().replace("\r\n ", "")
    events = re.findall(r"BEGIN:VEVENT\r\n(.*?)END:VEVENT", unfolded, re.DOTALL)
    pairs = [[line.split(":", 1) for line in event.splitlines()] for event in events]
    # Reversed, so that an event's own properties win over those of its alarm.
    read = [{name.split(";")[0]: value for name, value in reversed(event)} for event in pairs]
    return {event["UID"]: event for event in read}, after


def test_a_practice_has_every_property_that_clients_need() -> None:
    """One event tells when, where and what, in the zone's own clock."""
    events, _ = render(plan(practice("01-13", blocks=(block(),))))

    assert events[UID_13] == {
        "UID": UID_13,
        "DTSTAMP": "20270105T090000Z",
        "CREATED": "20270105T090000Z",
        "LAST-MODIFIED": "20270105T090000Z",
        "SEQUENCE": "0",
        "DTSTART": "20270113T173000",
        "DTEND": "20270113T184500",
        "SUMMARY": "Kestrel Quay: practice",
        "LOCATION": r"North Gym\, 1 Quay Road",
        "DESCRIPTION": r"Be there at 17:20.\nBring: a ball\, water."
        r"\nNEW 8 min: Give-and-go\, unopposed (no defender)",
        "CATEGORIES": "Practice",
        "STATUS": "CONFIRMED",
        "TRANSP": "OPAQUE",
        "CLASS": "PUBLIC",
    }


def test_the_same_plan_gives_the_same_bytes_at_any_time() -> None:
    """Publishing again a day later changes neither a byte nor the ledger."""
    first, ledger = calendar_bytes(plan(), season(), LIBRARY, EMPTY, NOW)

    assert calendar_bytes(plan(), season(), LIBRARY, ledger, LATER) == (first, ledger)


def test_a_moved_practice_keeps_its_uid_and_counts_up() -> None:
    """A new time stands under the old UID with a higher sequence and newer stamps."""
    _, ledger = render(plan())
    events, _ = render(plan(practice("01-13", start=dt.time(18)), practice("01-15")), ledger, LATER)

    names = ("DTSTART", "SEQUENCE", "LAST-MODIFIED", "DTSTAMP", "CREATED")
    assert {uid: tuple(events[uid][name] for name in names) for uid in (UID_13, UID_15)} == {
        UID_13: (
            *("20270113T180000", "1", "20270106T090000Z", "20270106T090000Z"),
            "20270105T090000Z",
        ),
        UID_15: (
            *("20270115T173000", "0", "20270105T090000Z", "20270105T090000Z"),
            "20270105T090000Z",
        ),
    }


def test_a_lost_practice_is_published_as_cancelled_with_its_reason() -> None:
    """What phones have shown is struck through, at its old time, and is silent."""
    of = season(calendar_out=CalendarOut(alarm=60))
    _, ledger = render(plan(), of=of)
    events, _ = render(plan(practice("01-13"), not_held=(lost("01-15"),)), ledger, LATER, of=of)

    names = ("STATUS", "SUMMARY", "DESCRIPTION", "TRANSP", "SEQUENCE", "DTSTART")
    assert [events[UID_15].get(name) for name in names] == [
        "CANCELLED",
        "CANCELLED: Kestrel Quay: practice",
        "Gym closed: burst pipe.",
        "TRANSPARENT",
        "1",
        "20270115T173000",
    ]
    assert "TRIGGER" not in events[UID_15]


def test_a_practice_that_was_never_published_is_not_cancelled() -> None:
    """A date that was off before anyone saw it is in no calendar."""
    events, _ = render(plan(practice("01-13"), not_held=(lost("01-15"),)))

    assert UID_15 not in events


def test_a_cancelled_practice_stays_thirty_days_after_its_start() -> None:
    """It is shown up to the thirtieth day and gone after it."""
    _, ledger = render(plan())
    gone = plan(practice("01-13"), not_held=(lost("01-15"),))
    _, ledger = render(gone, ledger, LATER)
    last = dt.datetime(2027, 2, 14, 17, 30, tzinfo=dt.UTC)

    shown = [UID_15 in render(gone, ledger, last + dt.timedelta(minutes=n))[0] for n in (0, 1)]
    assert shown == [True, False]


def test_a_practice_that_comes_back_counts_up_once_more() -> None:
    """Undoing a cancellation is a change like any other."""
    _, ledger = render(plan())
    _, ledger = render(plan(practice("01-13")), ledger, LATER)
    events, _ = render(plan(), ledger, LATER)

    assert (events[UID_15]["STATUS"], events[UID_15]["SEQUENCE"]) == ("CONFIRMED", "2")


def test_families_see_no_content_and_no_change_of_content() -> None:
    """A changed block changes the coach's calendar and leaves the families' bytes as they were."""
    before = plan(practice("01-13"))
    after = plan(practice("01-13", blocks=(block(),)))
    first, ledger = calendar_bytes(before, season(), LIBRARY, EMPTY, NOW, "families")
    _, ledger = calendar_bytes(before, season(), LIBRARY, ledger, NOW, "coach")
    second, ledger = calendar_bytes(after, season(), LIBRARY, ledger, LATER, "families")
    _, ledger = calendar_bytes(after, season(), LIBRARY, ledger, LATER, "coach")

    counts = [ledger.feed(name)[UID_13].sequence for name in ("families", "coach")]
    assert (second == first, b"Give-and-go" in second, counts) == (True, False, [0, 1])


@pytest.mark.parametrize(
    ("view", "shown"),
    [
        (View(), ("CANCELLED", "CANCELLED: Kestrel Quay: practice")),
        (View(cancelled="text"), ("CONFIRMED", "CANCELLED: Kestrel Quay: practice")),
        (View(cancelled="hide"), None),
    ],
)
def test_a_subscriber_chooses_how_cancelled_practices_look(
    view: View, shown: tuple[str, str] | None
) -> None:
    """Struck through, in words alone, or left out; the ledger is the same."""
    _, ledger = render(plan())
    gone = plan(practice("01-13"))
    events, after = render(gone, ledger, LATER, view=view)

    event = events.get(UID_15)
    assert (event and (event["STATUS"], event["SUMMARY"])) == shown
    assert after == render(gone, ledger, LATER)[1]


def test_a_subscribers_alarm_does_not_count_as_a_change() -> None:
    """An address that asks for an alarm gets one, under the same sequence."""
    _, ledger = render(plan())
    events, after = render(plan(), ledger, LATER, view=View(alarm=90))

    assert (events[UID_13]["TRIGGER"], after) == ("-PT1H30M", ledger)


def test_games_and_closures_come_on_wish() -> None:
    """Games stand in the calendar unless refused, closures when asked for, as whole days."""
    planned = plan(practice("01-13"), closures=(closure("02-15", "02-19"),))
    kinds = []
    for games, closures in ((True, False), (False, True)):
        of = season(calendar_out=CalendarOut(games=games, closures=closures))
        events, _ = render(planned, of=of)
        kinds.append(
            [(e["CATEGORIES"], e["DTSTART"], e["DTEND"]) for e in events.values()],
        )

    assert kinds == [
        [
            ("Practice", "20270113T173000", "20270113T184500"),
            ("Game", "20270130T100000", "20270130T110000"),
        ],
        [
            ("Practice", "20270113T173000", "20270113T184500"),
            ("Closure", "20270215", "20270220"),
        ],
    ]


def test_a_game_says_where_it_is_and_when_to_be_there() -> None:
    """Address, arrival time and kit come from the season file."""
    out = CalendarOut(bring=("a ball",), bring_to_games=("both shirts",), arrive_before=10)
    of = season(calendar_out=out, game=(cup(arrive_before=45),))
    events, _ = render(plan(of=of), of=of)

    (game,) = [event for event in events.values() if event["CATEGORIES"] == "Game"]
    assert {name: game[name] for name in ("SUMMARY", "LOCATION", "DESCRIPTION")} == {
        "SUMMARY": "Kestrel Quay: game at Harbour Light",
        "LOCATION": "Lough Hall",
        "DESCRIPTION": r"Be there at 09:15.\nBring: both shirts.",
    }


def test_a_time_that_the_clock_shows_twice_is_written_in_utc() -> None:
    """01:30 on 31 October 2027 comes twice in Dublin; the first one, 00:30 UTC, is meant."""
    doubled = practice("10-31", start=dt.time(1, 30), end=dt.time(3))
    events, _ = render(plan(doubled))

    times = [(e["DTSTART"], e["DTEND"]) for e in events.values() if e["CATEGORIES"] == "Practice"]
    assert times == [("20271031T003000Z", "20271031T030000Z")]


def test_a_calendar_of_nothing_is_refused_by_nobody() -> None:
    """A plan without practices and games is still a calendar with its name."""
    of = season(game=())
    data, _ = calendar_bytes(plan(of=of, practices=()), of, LIBRARY, EMPTY, NOW)

    assert (lint(data), b"X-WR-CALNAME:Kestrel Quay" in data) == ((), True)


def test_objects_hold_one_entry_each_with_its_zone() -> None:
    """A server that stores entries singly gets the events of the feed, each by its UID."""
    feed, ledger = calendar_bytes(plan(), season(), LIBRARY, EMPTY, NOW)
    objects, after = calendar_objects(plan(), season(), LIBRARY, EMPTY, NOW)

    events = re.findall(rb"BEGIN:VEVENT.*?END:VEVENT\r\n", feed, re.DOTALL)
    alone = [re.findall(rb"BEGIN:VEVENT.*?END:VEVENT\r\n", o, re.DOTALL) for o in objects.values()]
    assert alone == [[event] for event in events]
    assert [lint(data) for data in objects.values()] == [()] * len(events)
    assert after == ledger
