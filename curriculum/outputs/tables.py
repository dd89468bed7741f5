"""Views as plain data for JSON: the same words and numbers that are printed."""

import datetime as dt
from dataclasses import fields, is_dataclass

Plain = None | bool | int | str | list["Plain"] | dict[str, "Plain"]


def as_data(view: object) -> Plain:
    """Return a view of frozen dataclasses, tuples and mappings as dictionaries, lists and texts.

    Dates become `2027-01-27`, times `17:30`. Raises TypeError for anything else.
    """
    if view is None or isinstance(view, bool | int | str):
        return view
    if isinstance(view, dt.date):
        return view.isoformat()
    if isinstance(view, dt.time):
        return f"{view:%H:%M}"
    if isinstance(view, tuple | list):
        return [as_data(each) for each in view]
    if isinstance(view, dict):
        return {str(key): as_data(value) for key, value in view.items()}
    if is_dataclass(view):
        return {field.name: as_data(getattr(view, field.name)) for field in fields(view)}
    raise TypeError(f"{type(view).__name__} is no part of a view")
