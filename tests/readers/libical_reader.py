"""Prints every event of some calendar files as libical reads them: one JSON list a file.

Runs under the system's Python, whose `gi` reaches Debian's libical. A file that libical finds
fault with ends the run with the fault.
"""

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import gi  # type: ignore[import-not-found]

gi.require_version("ICalGLib", "3.0")
from gi.repository import ICalGLib  # type: ignore[import-not-found]  # noqa: E402

KIND = ICalGLib.ComponentKind


def parts(component: Any, kind: Any) -> Iterator[Any]:
    """Yield the components of a kind within another."""
    part = component.get_first_component(kind)
    while part is not None:
        yield part
        part = component.get_next_component(kind)


def faults(component: Any) -> Iterator[str]:
    """Yield the properties in which libical notes what it cannot read."""
    found = component.get_first_property(ICalGLib.PropertyKind.XLICERROR_PROPERTY)
    while found is not None:
        yield found.get_xlicerror()
        found = component.get_next_property(ICalGLib.PropertyKind.XLICERROR_PROPERTY)
    for part in parts(component, KIND.ANY_COMPONENT):
        yield from faults(part)


def read(path: str) -> list[list[Any]]:
    """Return the events of a file."""
    calendar = ICalGLib.Component.new_from_string(Path(path).read_text(encoding="utf-8"))
    ICalGLib.restriction_check(calendar)
    found = list(faults(calendar))
    if found:
        raise SystemExit(f"{path}: {found}")
    utc = ICalGLib.Timezone.get_utc_timezone()

    def moment(time: Any) -> Any:
        if time.is_date():
            return f"{time.get_year():04}-{time.get_month():02}-{time.get_day():02}"
        return time.as_timet_with_zone(time.get_timezone() or utc)

    return [
        [
            event.get_uid(),
            moment(event.get_dtstart()),
            moment(event.get_dtend()),
            event.get_summary(),
        ]
        for event in parts(calendar, KIND.VEVENT_COMPONENT)
    ]


print(json.dumps([read(path) for path in sys.argv[1:]]))
