"""A picture on a square: whole, in the middle, and on none that fills the memory."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image

from lessonpress.drawing import sheets
from lessonpress.drawing.pictured import Pictured
from lessonpress.drawing.sheets import on_square


def drawn(wide: int, high: int) -> Pictured:
    return Pictured(Image.new("RGB", (wide, high), "red"), {}, filmed=False)


def size_of(made: Pictured) -> tuple[int, int]:
    return Image.open(BytesIO(made.png())).size


def test_a_picture_keeps_its_size_on_a_square_as_wide_as_its_longer_side() -> None:
    assert size_of(on_square(drawn(20, 30))) == (30, 30)
    assert size_of(on_square(drawn(20, 30), least=40)) == (40, 40)


def test_one_of_an_endless_caption_is_made_smaller(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheets, "WIDEST_SQUARE", 60)
    square = on_square(drawn(20, 240))
    assert size_of(square) == (60, 60)
    whole = Image.open(BytesIO(square.png())).convert("RGB")
    assert whole.getpixel((30, 30)) == (255, 0, 0) and whole.getpixel((20, 30)) != (255, 0, 0)
