"""A value as the one who wrote it knows it, for the sentence that refuses it."""

import datetime

_MOST = 40


def shown_value(value: object) -> str:
    """Show a value as a job file and JSON have it: `true`, `null`, `4`, `"four"`; at most 40 characters."""
    if value is None or isinstance(value, bool):
        return "null" if value is None else str(value).lower()
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    return repr(value)[:_MOST]
