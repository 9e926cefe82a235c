"""What a card obscures is in no picture that leaves the press, every picture of a loop among them.

Looked at is all of the site and of a letter that holds a picture, whatever file it lies in.

Two corners of a board on the wall: one is obscured, the other shows at which scale and where a picture has
both. The normalised correlation of the source's patch with what is there (Lewis, "Fast normalized
cross-correlation", 1995) is one where it is shown. A disc is averaged into four cells across, which keep
where it was light and dark, and no edge: that is less than BOUND, a quarter of what varied.
"""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from lessonpress.footage import read_index, take_pictures
from lessonpress.intake import start_site
from lessonpress.press.letters import MailOptions, write_letters
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.press.remains import contents, images_in
from tests.press.test_withdrawal import LOOP

CLIP = "clips/shingle-face-on"
BOARD, OTHER = (434, 199), (205, 199)  # px: two corners of the board on the wall
HALF = 22  # px of the source, half the side of a patch
BOUND, THERE = 0.5, 0.8
SLACK = 4  # px that it may lie elsewhere
SCALES, FINE = np.geomspace(0.4, 2.0, 14), np.geomspace(0.94, 1.06, 7)
WIDEST = (
    700  # px; a wider picture is looked at made smaller, so that a patch in it is as large as in the source
)

KINDS = (
    "-521.webp",
    "setup.png",
    "setup.square.png",
    "setup.letter.png",
    "setup.svg",
    "round-loop.mp4",
    "round-loop.webp",
    "letter.eml",
)

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
    site = root / "site.yaml"
    site.write_text(
        site.read_text().replace("# url: https://example.com/ ", "url: https://notebook.example #")
    )
    marks.write_text(f"{marks.read_text()}board:\n  0: [{BOARD[0]}, {BOARD[1]}]\n")
    lesson.write_text(lesson.read_text() + LOOP)
    done = press(root, root / "build/site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors
    assert write_letters(root, ["first-lesson"], MailOptions(attach=True), Silent()).folders
    return root


def grey(image: Image.Image) -> Grey:
    image = image.convert("L")
    image.thumbnail((WIDEST, 2 * WIDEST), Image.Resampling.BOX)
    return np.asarray(image, dtype=np.float32)


def found(patch: Grey, picture: Grey, scale: float) -> tuple[float, tuple[int, int]]:
    """How alike a patch and the place that is most like it are, and where that begins, px."""
    size = max(8, round(2 * HALF * scale))
    if size > min(picture.shape):
        return 0.0, (0, 0)
    alike = cv2.matchTemplate(picture, _scaled(patch, size), cv2.TM_CCOEFF_NORMED)
    _, most, _, at = cv2.minMaxLoc(alike)
    return float(most), (int(at[0]), int(at[1]))


def _scaled(patch: Grey, size: int) -> Grey:
    return np.asarray(cv2.resize(patch, (size, size), interpolation=cv2.INTER_AREA), dtype=np.float32)


def scale_of(source: Grey, picture: Grey) -> float:
    """How large a picture shows the corner that is not obscured, at its likeliest."""
    coarse = max(SCALES, key=lambda scale: found(patch(source, OTHER), picture, float(scale))[0])
    return float(max(coarse * FINE, key=lambda one: found(patch(source, OTHER), picture, float(one))[0]))


def hidden_there(
    source: Grey, picture: Grey, scale: float, near: tuple[int, int] | None = None
) -> tuple[float, float, tuple[int, int]]:
    """Likeness of the corner that is shown where it is most alike, and of the hidden one where it then is.

    The third is where the first begins, px; near: about there, if that is known.
    """
    size = max(8, round(2 * HALF * scale))
    left, top = (0, 0) if near is None else (max(0, near[0] - SLACK), max(0, near[1] - SLACK))
    reach = size + 2 * SLACK if near else max(picture.shape)
    there, (x, y) = found(patch(source, OTHER), picture[top : top + reach, left : left + reach], scale)
    x, y = x + left, y + top
    at = (x, y)
    x, y = (round(at + (b - o) * scale) for at, b, o in zip((x, y), BOARD, OTHER, strict=True))
    cut = picture[max(0, y - SLACK) : y + size + SLACK, max(0, x - SLACK) : x + size + SLACK]
    if min(cut.shape) < size:
        return 0.0, 0.0, at  # the crop leaves it out
    return there, found(patch(source, BOARD), cut, scale)[0], at


def patch(source: Grey, at: tuple[float, float]) -> Grey:
    x, y = round(at[0]), round(at[1])
    return source[y - HALF : y + HALF, x - HALF : x + HALF]


def hidden_in(content: bytes, source: Grey) -> list[float]:
    """The likeness of the hidden corner in each picture of a file that has both corners."""
    scale, near, seen = 0.0, None, []
    for picture in map(grey, images_in(content)):
        scale = scale or scale_of(source, picture)
        there, hidden, near = hidden_there(source, picture, scale, near)  # as in the one before, of a film
        if there > THERE:
            seen.append(hidden)
    return seen


def test_no_picture_shows_what_is_obscured(root: Path) -> None:
    video = root / CLIP / "shingle-face-on.mp4"
    ((_, pixels),) = take_pictures(video, read_index(video), [6])
    source = grey(Image.fromarray(pixels))
    assert min(hidden_there(source, source, 1.0)[:2]) > THERE  # so it is found where nothing is obscured
    known: dict[bytes, list[float]] = {}
    seen: dict[str, list[float]] = {}
    for file, content in (one for part in ("site", "mail") for one in contents(root / "build" / part)):
        if content not in known:
            known[content] = hidden_in(content, source)
        if known[content]:
            seen.setdefault(file.name, []).extend(known[content])
    for kind in KINDS:
        assert any(name.endswith(kind) for name in seen), kind
    assert {name: max(hidden) for name, hidden in seen.items() if max(hidden) > BOUND} == {}
    loop = root / "build/site/lessons/first-lesson/round-loop.mp4"
    assert len(seen[loop.name]) == sum(1 for _ in images_in(loop.read_bytes())) > 40
