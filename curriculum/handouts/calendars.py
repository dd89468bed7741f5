"""The calendars of a season folder: as a file, and on a CalDAV server."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

from curriculum.handouts.told import told
from curriculum.ledger import Ledger
from curriculum.models.plan import Plan
from curriculum.outputs.ical.entries import Audience
from curriculum.outputs.ical.feed import PLAIN, View, calendar_bytes, calendar_objects
from curriculum.outputs.ical.lint import lint
from curriculum.problems import FaultyInputError, Problem
from curriculum.publish.address import Login
from curriculum.publish.caldav_server import CalDavServer
from curriculum.publish.run import Outcome, ServerError, publish
from curriculum.workspace import Workspace


def calendar_file(
    space: Workspace, plan: Plan, audience: Audience, now: dt.datetime, view: View = PLAIN
) -> tuple[bytes, Workspace]:
    """Return a calendar of the plan, and the folder with the ledger that is kept with it.

    Raises FaultyInputError, and keeps nothing, when no phone should see the calendar.
    """

    def made(ledger: Ledger) -> tuple[bytes, Ledger]:
        data, after = calendar_bytes(plan, space.season, space.library, ledger, now, audience, view)
        faults = lint(data)
        if faults:
            raise FaultyInputError(
                [Problem("", 0, "calendar", f"would not be valid: {fault}") for fault in faults]
            )
        return data, after

    data, ledger = told(space, plan, now, made)
    return data, replace(space, ledger=ledger)


def publish_calendar(
    space: Workspace,
    plan: Plan,
    address: str,
    login: Login,
    audience: Audience,
    view: View,
    now: dt.datetime,
    *,
    overwrite: bool = False,
) -> Outcome:
    """Bring a calendar on a CalDAV server up to date; safe to repeat and to interrupt.

    What stands in the way is in the outcome, a server out of reach too.
    """

    def made(ledger: Ledger) -> tuple[dict[str, bytes], Ledger]:
        return calendar_objects(plan, space.season, space.library, ledger, now, audience, view)

    def save(change: Callable[[Ledger], Ledger]) -> Ledger:
        return told(space, plan, now, lambda kept: (None, change(kept)))[1]

    objects, ledger = told(space, plan, now, made)
    try:
        server = CalDavServer(address, login)
        server.open()
    except ServerError as fault:
        return Outcome({}, (Problem("", 0, "--publish", str(fault), address),))
    try:
        _, outcome = publish(
            objects,
            ledger,
            address,
            audience,
            server,
            save,
            overwrite=overwrite,
        )
    finally:
        server.close()
    return outcome
