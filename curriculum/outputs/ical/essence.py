"""What an event says, whoever wrote its bytes down: servers reorder and rewrite what they store."""

import datetime as dt
import hashlib
import json
from typing import Any

TEXTS = ("SUMMARY", "LOCATION", "DESCRIPTION", "STATUS", "TRANSP", "URL")
MOMENTS = ("DTSTART", "DTEND")


def essence(data: bytes) -> str:
    """Return a hash over what a reader of an event sees; "" when the bytes hold no sound event.

    Left out are order, stamps, sequence and alarms: an alarm is a reader's own affair.
    """
    from icalendar import Calendar

    try:
        events = Calendar.from_ical(data).events
        said = [_said(event) for event in events]
    except (ValueError, TypeError, AttributeError, LookupError, ArithmeticError):
        return ""
    told = json.dumps(sorted(said), ensure_ascii=True)
    return hashlib.sha256(told.encode()).hexdigest()[:32] if said else ""


def _said(event: Any) -> list[str]:
    texts = ["\n".join(str(event.get(name, "")).split()) for name in TEXTS]
    moments = [_moment(event[name].dt) if name in event else "" for name in MOMENTS]
    repeats = [str(event.get(name, "")) for name in ("RRULE", "RECURRENCE-ID")]
    return [str(event["UID"]), *moments, *texts, *repeats]


def _moment(moment: dt.date) -> str:
    if isinstance(moment, dt.datetime) and moment.tzinfo is not None:
        return moment.astimezone(dt.UTC).isoformat()
    return moment.isoformat()
