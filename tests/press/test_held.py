"""What steps of one process share: how much of it is held, and that nothing old is given."""

from __future__ import annotations

import gc
import weakref

import pytest

from lessonpress.press.steps import shared
from lessonpress.press.steps.held import Held
from lessonpress.press.steps.shared import Shared


def test_what_was_used_longest_ago_is_let_go_of() -> None:
    held: Held[str, int] = Held(10)
    assert [held.hold(name, number, 4) for number, name in enumerate("ab")] == [0, 0]
    assert held["a"] == 0
    assert held.hold("c", 2, 4) == 1
    assert "a" in held and "b" not in held


def test_one_thing_is_held_however_heavy_it_is() -> None:
    held: Held[str, int] = Held(10)
    held.hold("a", 0, 4)
    assert held.hold("b", 1, 400) == 1
    assert held["b"] == 1 and "a" not in held


def test_a_product_is_given_for_its_own_hash_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shared, "_MOST_OPEN", 10)
    of_site, of_lesson, one = ("heads", "", ""), ("bound", "one", ""), Shared()
    for key in (of_site, of_lesson):
        one.hold(key, "first", 1, 400)
        one.hold(key, "second", None, 400)
        assert one.held(key, "first") is None
        assert one.held(key, "second") == (None,)
    one.hold(("bound", "two", ""), "other", 2, 400)
    assert one.held(of_lesson, "second") is None
    assert one.held(of_site, "second") == (None,)


class _Survey:
    """Points to itself, as parts of a survey do."""

    def __init__(self) -> None:
        self.own = self


def test_surveys_let_go_of_do_not_lie_there_for_long() -> None:
    one, made = Shared(), []
    gc.disable()  # what is collected here is collected by name
    try:
        for number in range(40):
            survey = _Survey()
            made.append(weakref.ref(survey))
            one.hold_survey(("filmed", str(number)), number, survey)
            del survey
        assert sum(survey() is not None for survey in made) < 16
    finally:
        gc.enable()
