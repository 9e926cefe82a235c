"""A small part of `python -m tests.damaged`."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.footage.video.second_decoder import SecondDecoder
from tests.damaged.films import damaged, films
from tests.damaged.held import Held, held

SEED = 1
CHOSEN = (0, 4, 8, 12, 1, 2, 3)  # of VP8 most, which alone was shown wrongly


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    return films(tmp_path_factory.mktemp("films"))


@pytest.mark.parametrize("number", CHOSEN)
def test_a_damaged_film_shows_what_a_plain_decode_shows_or_is_refused(
    sound: dict[str, bytes], tmp_path: Path, number: int
) -> None:
    path = tmp_path / "damaged.webm"
    path.write_bytes(damaged(sound, SEED, number).data)
    found = held(path)
    assert (found.other, found.unsure) == ((), ())


@pytest.mark.parametrize("name", ["vp8", "vp9-hidden"])
def test_a_sound_film_is_shown_whole(sound: dict[str, bytes], tmp_path: Path, name: str) -> None:
    path = tmp_path / "sound.webm"
    path.write_bytes(sound[name])
    assert held(path) == Held()


def test_without_a_second_decoder_the_same_films_are_shown_wrongly(
    sound: dict[str, bytes], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So the films above would show it."""
    monkeypatch.setattr(SecondDecoder, "differs", lambda *_: False)
    path, wrong = tmp_path / "damaged.webm", 0
    for number in CHOSEN[:4]:
        path.write_bytes(damaged(sound, SEED, number).data)
        found = held(path)
        wrong += bool(found.other or found.unsure)
    assert wrong
