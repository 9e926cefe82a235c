"""The films are parted by golfer."""

from __future__ import annotations

from functools import partial

from tests.suggesting.films import HELD, LEARNT, OTHERS, Filmed, of_gallery


def _golfer(film: partial[Filmed]) -> str:
    """Of the gallery a number is a golfer, who need not be filmed for it."""
    return f"Golfer-{film.args[0]}" if film.func is of_gallery else film().golfer


def test_nothing_was_learnt_of_a_golfer_on_whom_it_is_shown() -> None:
    learnt = {_golfer(film) for film in LEARNT}
    shown = {_golfer(film) for film in (*HELD, *OTHERS)}
    assert len(learnt) == 15 and len(shown) == 11
    assert not learnt & shown
