"""An author's own picture is published upright and with nothing in it but the picture, or refused."""

from __future__ import annotations

import io
from itertools import product

import numpy as np
import pytest
from PIL import Image, ImageOps

from lessonpress.footage import FootageError, Photograph, photograph, suffix_of, vector_drawing

GPS, MAKE, TURNED = 0x8825, 0x010F, 0x0112  # tags of Exif 2.32
SECRET = b"Saltmarsh Camera Works"


def scene() -> Image.Image:
    """Uneven on all sides, so that each way to turn it is another picture."""
    pixels = np.zeros((40, 60, 3), np.uint8)
    pixels[:10], pixels[:, :15], pixels[20:, 40:] = (200, 40, 40), (40, 200, 40), (40, 40, 200)
    return Image.fromarray(pixels)


def saved(picture: Image.Image, kind: str, turned: int = 1) -> bytes:
    exif = Image.Exif()
    exif[TURNED], exif[MAKE] = turned, SECRET.decode()
    exif.get_ifd(GPS)[2] = (54.0, 10.0, 30.0)
    written = io.BytesIO()
    picture.save(written, kind, exif=exif, **({} if kind == "PNG" else {"quality": 95}))
    return written.getvalue()


@pytest.mark.parametrize(("kind", "turned"), list(product(["JPEG", "PNG", "WEBP"], range(1, 9))))
def test_it_is_turned_upright_and_says_nothing_of_its_camera(kind: str, turned: int) -> None:
    """Against Pillow's own turning of the file, for all eight orientations of Exif 2.32."""
    filed = saved(scene(), kind, turned)
    assert SECRET in filed
    made = photograph(filed, {"JPEG": "jpg"}.get(kind, kind.lower())).file
    assert SECRET not in made and b"Exif" not in made
    picture = Image.open(io.BytesIO(made))
    assert not picture.getexif()
    wanted = ImageOps.exif_transpose(Image.open(io.BytesIO(filed)))
    assert picture.size == wanted.size
    difference = np.asarray(picture.convert("RGB"), float) - np.asarray(wanted.convert("RGB"), float)
    assert np.abs(difference).mean() < 3  # levels of 256: what saving again costs


def test_a_photograph_that_lies_right_is_saved_as_finely_as_it_was() -> None:
    filed = saved(scene(), "JPEG")
    made = Image.open(io.BytesIO(photograph(filed, "jpg").file))
    assert made.quantization == Image.open(io.BytesIO(filed)).quantization  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("name", "content", "reason"),
    [
        ("a.jpg", b"", "not a JPEG"),
        ("a.png", b"GIF? no", "not a PNG"),
        ("a.png", saved(scene(), "JPEG"), "holds a JPEG"),
        ("a.jpg", saved(scene(), "JPEG")[:300], "damaged"),
        ("a.svg", b"<svg", "not an SVG"),
        ("a.svg", b"<svg/>", "not an SVG"),
    ],
)
def test_what_holds_no_such_picture_is_refused(name: str, content: bytes, reason: str) -> None:
    with pytest.raises(FootageError, match=reason):
        vector_drawing(content) if name.endswith("svg") else photograph(content, suffix_of(name))


def test_a_huge_picture_is_refused_before_it_is_unpacked() -> None:
    written = io.BytesIO()
    Image.new("1", (9000, 9000)).save(written, "PNG")
    with pytest.raises(FootageError, match="9000 × 9000 px"):
        photograph(written.getvalue(), "png")


SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">{}</svg>'


@pytest.mark.parametrize(
    "inside",
    [
        "<script>alert(1)</script>",
        '<rect onload="alert(1)"/>',
        "<foreignObject/>",
        '<image href="https://e.org/x.png"/>',
        '<use xlink:href="other.svg#a"/>',
        "<style>@import url(x.css);</style>",
        '<rect fill="url(https://e.org/a#b)"/>',
        '<a href="javascript:alert(1)"/>',
        '<set attributeName="href" to="javascript:alert(1)"/>',
        "<metadata><date>2026-11-01</date></metadata>",
        '<g xmlns:e="urn:editor" e:docname="of-marram.svg"/>',
    ],
)
def test_a_drawing_that_does_more_than_show_is_refused(inside: str) -> None:
    with pytest.raises(FootageError):
        vector_drawing(SVG.format(inside).encode())


def test_a_drawing_that_only_shows_is_sound_and_says_its_size() -> None:
    """Its own px, else those of its `viewBox`, else what CSS 2.1 (10.3.2) gives a picture without a size."""
    shown = SVG.format(
        "<metadata><format>image/svg+xml</format></metadata>"
        '<defs><g id="a"/></defs><use href="#a"/><rect fill="url(#a)" style="fill:url(\'#a\')"/>'
    )
    assert vector_drawing(shown.encode()) == (300, 150)
    boxed = shown.replace("<svg", '<svg viewBox="-5 0,640 .5e3"', 1)
    assert vector_drawing(boxed.encode()) == (640, 500)
    sized = boxed.replace("<svg", '<svg width="80px" height="90"', 1)
    assert vector_drawing(sized.encode()) == (80, 90)
    for head in ("<!DOCTYPE svg>", '<?xml-stylesheet href="x.css"?>'):
        with pytest.raises(FootageError):
            vector_drawing((head + shown).encode())


@pytest.mark.parametrize("sides", ['width="90000" height="90000"', 'viewBox="0 0 4 400"'])
def test_a_drawing_without_bounds_is_refused(sides: str) -> None:
    with pytest.raises(FootageError):
        vector_drawing(SVG.format("").replace("<svg", f"<svg {sides}", 1).encode())


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "PA", "CMYK", "I;16", "RGBA"])
def test_every_kind_of_pixel_can_be_scaled(mode: str) -> None:
    """A grey of a quarter of white, whatever it is stored as."""
    grey = {"1": 0, "L": 64, "LA": (64, 255), "P": 64, "PA": (64, 255), "CMYK": (0, 0, 0, 191)}
    picture = Image.new(mode, (4, 4), grey.get(mode, 64 * 257 if mode == "I;16" else (64, 64, 64, 255)))
    if mode in ("P", "PA"):
        picture.putpalette([level for level in range(256) for _ in range(3)])
    plain = Photograph(picture, "PNG", False).plain
    assert plain.mode in ("RGB", "RGBA")
    red = plain.getpixel((1, 1))[0]  # type: ignore[index]
    assert red == (0 if mode == "1" else 64)
