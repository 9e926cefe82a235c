"""A damaged film, and how it takes the place of the sound site's."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from random import Random

from tests.corpus.sound import CARD, VIDEO

Films = Mapping[str, Path]  # suffix, such as "h264.mp4" → the film


@dataclass(frozen=True)
class Damaged:
    """suffix: of the file's name, with its dot. said: what was done."""

    suffix: str
    data: bytes
    said: str


DamagedBy = Callable[[Films, Random], Damaged]


def chosen(films: Films, random: Random, ending: str = "") -> tuple[str, bytearray]:
    """One of the films whose name ends so: its suffix and what it holds."""
    suffix = random.choice([name for name in films if name.endswith(ending)])
    return suffix, bytearray(films[suffix].read_bytes())


def ending_of(suffix: str) -> str:
    return "." + suffix.rsplit(".", 1)[1]


def put(films: Films, damaged: DamagedBy) -> Callable[[Path, Random], str]:
    """What spoils a site by putting a damaged film in the place of its own."""

    def spoil(root: Path, random: Random) -> str:
        made = damaged(films, random)
        (root / VIDEO).unlink()
        video = (root / VIDEO).with_suffix(made.suffix)
        video.write_bytes(made.data)
        card = (root / CARD).read_text().replace(f"video: {Path(VIDEO).name}", f"video: {video.name}")
        (root / CARD).write_text(card)
        return f"{video.name}: {made.said}"

    return spoil
