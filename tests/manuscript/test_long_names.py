"""What files are called after is short enough for a file's name."""

from __future__ import annotations

import pytest
from pydantic import TypeAdapter, ValidationError

from lessonpress.manuscript.fields.fieldtypes import Id
from lessonpress.manuscript.lesson.lesson import Topic


@pytest.mark.parametrize("text", ["a" * 65, "a-" * 5000 + "a"])
def test_an_id_that_is_too_long_is_refused(text: str) -> None:
    with pytest.raises(ValidationError, match="too long"):
        TypeAdapter(Id).validate_python(text)


@pytest.mark.parametrize("text", ["a" * 201, "ü" * 101, "\ufdfa" * 7])
def test_a_topic_that_is_too_long_is_refused(text: str) -> None:
    """U+FDFA becomes 18 characters in NFKC (Unicode Character Database), the form that names its page."""
    with pytest.raises(ValidationError, match="too long"):
        TypeAdapter(Topic).validate_python(text)


def test_a_topic_of_any_script_and_a_long_id_are_taken() -> None:
    assert TypeAdapter(Topic).validate_python("スイング") == "スイング"
    assert TypeAdapter(Id).validate_python("a" * 64) == "a" * 64
