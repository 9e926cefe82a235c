"""What a card obscures is in no picture that leaves the press: pages, diagrams, letters, loops.

Two corners of a board on the wall: one is obscured, the other shows at which scale and where a picture has
both. The normalised correlation of the source's patch with what is there (Lewis, "Fast normalized
cross-correlation", 1995) is one where it is shown. A disc is averaged into four cells across, which keep
where it was light and dark, and no edge: that is less than BOUND, a quarter of what varied.
"""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterator
from pathlib import Path

import av
import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from lessonpress.footage import read_index, take_pictures
from lessonpress.intake import start_site
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.press.test_withdrawal import LOOP

CLIP = "clips/shingle-face-on"
BOARD, OTHER = (434, 199), (205, 199)  # px: two corners of the board on the wall
HALF = 22  # px of the source, half the side of a patch
BOUND, THERE = 0.5, 0.8
SLACK = 4  # px that it may lie elsewhere
SCALES, FINE = np.geomspace(0.4, 2.0, 14), np.geomspace(0.94, 1.06, 7)

Grey = NDArray[np.float32]


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("obscured") / "notebook"
    start_site(root)
    card, marks, lesson = (
        root / CLIP / "clip.yaml",
        root / CLIP / "marks.yaml",
        root / "lessons/first-lesson.md",
    )
    text = card.read_text().replace("people: []", "people: []\nobscure: [{mark: board, across: 90 px}]")
    card.write_text(text.replace("room: [", "room: [board, "))
    marks.write_text(f"{marks.read_text()}board:\n  0: [{BOARD[0]}, {BOARD[1]}]\n")
    lesson.write_text(lesson.read_text() + LOOP)
    done = press(root, root / "build/site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors
    return root


def grey(image: Image.Image) -> Grey:
    return np.asarray(image.convert("L"), dtype=np.float32)


def pictures(site: Path) -> Iterator[tuple[str, Grey]]:
    """Pictures of a frame and its plate: files of pages, diagrams and letters, within SVGs, of a loop."""
    lesson = site / "lessons/first-lesson"
    files = [*site.rglob("pictures/**/6-*.webp"), *lesson.glob("setup*.png"), *lesson.glob("*.webp")]
    for file in sorted(files):
        yield file.name, grey(Image.open(file))
    for file in sorted(lesson.glob("setup.svg")):
        for within in re.findall(r"data:image/\w+;base64,([A-Za-z0-9+/=]+)", file.read_text()):
            yield file.name, grey(Image.open(io.BytesIO(base64.b64decode(within))))
    with av.open(str(lesson / "round-loop.mp4")) as film:
        for number, frame in enumerate(film.decode(video=0)):
            if number % 40 == 0:
                yield f"round-loop.mp4, {number}", grey(frame.to_image())


def found(patch: Grey, picture: Grey, scale: float) -> tuple[float, tuple[int, int]]:
    """How alike a patch and the place that is most like it are, and where that begins, px."""
    size = max(8, round(2 * HALF * scale))
    if size >= min(picture.shape):
        return 0.0, (0, 0)
    alike = cv2.matchTemplate(picture, _scaled(patch, size), cv2.TM_CCOEFF_NORMED)
    _, most, _, at = cv2.minMaxLoc(alike)
    return float(most), (int(at[0]), int(at[1]))


def _scaled(patch: Grey, size: int) -> Grey:
    return np.asarray(cv2.resize(patch, (size, size), interpolation=cv2.INTER_AREA), dtype=np.float32)


def hidden_there(source: Grey, picture: Grey) -> tuple[float, float]:
    """Likeness of the corner that is shown where it is most alike, and of the hidden one where it then is."""
    coarse = max(SCALES, key=lambda scale: found(patch(source, OTHER), picture, float(scale))[0])
    scale = max(coarse * FINE, key=lambda one: found(patch(source, OTHER), picture, float(one))[0])
    there, (x, y) = found(patch(source, OTHER), picture, float(scale))
    x, y = (round(at + (b - o) * scale) for at, b, o in zip((x, y), BOARD, OTHER, strict=True))
    size = max(8, round(2 * HALF * scale))
    cut = picture[max(0, y - SLACK) : y + size + SLACK, max(0, x - SLACK) : x + size + SLACK]
    if min(cut.shape) < size:
        return 0.0, 0.0  # the crop leaves it out
    return there, found(patch(source, BOARD), cut, float(scale))[0]


def patch(source: Grey, at: tuple[float, float]) -> Grey:
    x, y = round(at[0]), round(at[1])
    return source[y - HALF : y + HALF, x - HALF : x + HALF]


def test_no_picture_shows_what_is_obscured(root: Path) -> None:
    video = root / CLIP / "shingle-face-on.mp4"
    ((_, pixels),) = take_pictures(video, read_index(video), [6])
    source = grey(Image.fromarray(pixels))
    likeness = {name: hidden_there(source, picture) for name, picture in pictures(root / "build/site")}
    seen = {name: hidden for name, (there, hidden) in likeness.items() if there > THERE}
    for kind in ("webp", "setup.png", "setup.letter.png", "setup.svg", "mp4, 0", "mp4, 40"):
        assert any(name.endswith(kind) for name in seen), kind
    assert {name: hidden for name, hidden in seen.items() if hidden > BOUND} == {}
    assert min(hidden_there(source, source)) > THERE  # so it is found where nothing is obscured
