"""The moment that a hand-in names in nbgrader's own small file."""

from __future__ import annotations

from datetime import datetime

from nbgrader.utils import parse_utc


def is_timestamp(data: bytes | str) -> bool:
    """Say whether the bytes read as a moment in a form that nbgrader understands."""
    return isinstance(data, bytes) and parse_timestamp(data.decode("utf-8", "replace")) is not None


def parse_timestamp(text: str) -> datetime | None:
    """Return the moment (UTC, without zone) that a text names, or None."""
    try:
        moment = parse_utc(text.strip())
    except (ValueError, OverflowError):
        return None
    return moment if isinstance(moment, datetime) else None
