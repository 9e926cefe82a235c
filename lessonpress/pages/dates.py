"""Dates in the words of the theme."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any


def long_date(day: date, words: Mapping[str, Any]) -> str:
    """23 November 2026"""
    return str(words["date"]["long"]).format(
        day=day.day, month=words["date"]["months"][day.month - 1], year=day.year
    )


def short_date(day: date, words: Mapping[str, Any]) -> str:
    """16 Nov 2026"""
    return str(words["date"]["short"]).format(
        day=day.day, month=words["date"]["short_months"][day.month - 1], year=day.year
    )
