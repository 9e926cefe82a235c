"""Makes what is published of an author's own picture: blurred where its card says so, in all its sizes.

| file | what |
|---|---|
| `files/PATH` | the picture in the format that it came in, upright and bare |
| `pictures/files/PATH-HASH-WIDTH.webp` | what pages show |
| `files/PATH.letter.jpg`, `.png` | what letters and feeds show; the name stays, for letters that were sent |

A drawing in SVG is shown by pages as it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO

from PIL import Image

from lessonpress.drawing import render_png
from lessonpress.figures import credit_of
from lessonpress.footage import (
    VECTOR,
    FootageError,
    Photograph,
    obscured,
    photograph,
    suffix_of,
    vector_drawing,
)
from lessonpress.manuscript import StillCard
from lessonpress.pages import (
    LETTER_WIDTH,
    STILL_WIDTHS,
    Picture,
    Still,
    attached_path,
    letter_picture_path,
)
from lessonpress.press.pictures import METHOD, QUALITY
from lessonpress.records import Point, Problems

LIBRARIES = ("python", "pillow", "resvg-py")
JPEG_QUALITY = 82
PNG_EFFORT = 6  # of the compression, 0 to 9: 3 % more bytes than 9 in a sixth of its time (measured)
_LINE_ART = ("PNG", "GIF")  # what drawings and screens come as: these are often smaller without loss
_LOSSLESS = ("png", "gif", VECTOR)  # of these a letter has a PNG


@dataclass(frozen=True)
class TakenIn:
    """files: content by path in the site."""

    still: Still
    files: Mapping[str, bytes]


def take_in(path: str, content: bytes, card: StillCard, problems: Problems) -> TakenIn:
    """A picture of the site. path: from its folder. What its card asks for and cannot be had: `problems`.

    Raises FootageError for what holds no picture that can be published.
    """
    if suffix_of(path) == VECTOR:
        return _drawing(path, content, card, problems)
    seen = _seen(photograph(content, suffix_of(path)), card, problems)
    shown = dict(_page_files(path, seen))
    letter, sent = _for_letters(path, seen.plain)
    files = {attached_path(path): seen.file, letter.href: sent}
    files |= {picture.href: made for picture, made in shown.items()}
    return TakenIn(Still(tuple(shown), letter, credit_of(card.source)), files)


def _drawing(path: str, content: bytes, card: StillCard, problems: Problems) -> TakenIn:
    width, height = vector_drawing(content)
    if card.obscure:
        wrong = "a drawing in SVG cannot be blurred: what it is made of lies open in its file"
        problems.error(card.location_of("obscure"), wrong, "save it as PNG")
    try:
        rendered = render_png(content.decode("utf-8-sig"), min(LETTER_WIDTH, 2 * width) / width)
        picture = Image.open(BytesIO(rendered))
        picture.load()
    except (ValueError, OSError) as error:
        raise FootageError("it cannot be drawn", "save it as plain SVG, or as PNG") from error
    letter, sent = _for_letters(path, picture)
    page = Picture(attached_path(path), max(1, round(width)), max(1, round(height)))
    files = {attached_path(path): content, letter.href: sent}
    return TakenIn(Still((page,), letter, credit_of(card.source)), files)


def _seen(taken: Photograph, card: StillCard, problems: Problems) -> Photograph:
    """The picture as it may be seen."""
    if not card.obscure:
        return taken
    width, height = taken.picture.size
    for number, disc in enumerate(card.obscure):
        x, y = disc.at
        if not (0 <= x <= width and 0 <= y <= height):
            wrong = f"this point lies outside the picture, which is {width} × {height} px upright"
            problems.error(card.location_of("obscure", number, "at"), wrong, "x right, y down, from 0")
    discs: list[tuple[Point, float]] = [(disc.at, disc.across / 2) for disc in card.obscure]
    return taken.seen_as(obscured(taken.plain, discs))


def _page_files(path: str, seen: Photograph) -> Iterator[tuple[Picture, bytes]]:
    """The picture at each width of the site's that it can fill, its own among them where that is less."""
    plain = seen.plain
    widths = [width for width in STILL_WIDTHS if width < plain.width]
    if plain.width <= STILL_WIDTHS[-1]:
        widths.append(plain.width)
    stem = path.rpartition(".")[0]
    for width in widths:
        scaled = _scaled(plain, width)
        made = _webp(scaled, exactly=seen.named in _LINE_ART)
        href = f"pictures/files/{stem}-{sha256(made).hexdigest()[:10]}-{width}.webp"
        yield Picture(href, *scaled.size), made


def _scaled(picture: Image.Image, width: int) -> Image.Image:
    if width == picture.width:
        return picture
    height = max(1, round(width * picture.height / picture.width))
    return picture.resize((width, height), Image.Resampling.LANCZOS)


def _webp(picture: Image.Image, *, exactly: bool) -> bytes:
    """exactly: whether a file without loss is taken where that is the smaller one."""
    profile = picture.info.get("icc_profile", b"")
    made = BytesIO()
    picture.save(made, "WEBP", quality=QUALITY, method=METHOD, icc_profile=profile)
    if not exactly:
        return made.getvalue()
    exact = BytesIO()
    picture.save(exact, "WEBP", lossless=True, method=METHOD, icc_profile=profile)
    return min(made.getvalue(), exact.getvalue(), key=len)


def _for_letters(path: str, plain: Image.Image) -> tuple[Picture, bytes]:
    """The picture on white: mail programs show clear parts on whatever ground they have."""
    scaled = _scaled(plain, min(plain.width, LETTER_WIDTH))
    ground = scaled
    if scaled.mode == "RGBA":
        ground = Image.new("RGB", scaled.size, "white")
        ground.paste(scaled, mask=scaled)
        ground.info = scaled.info
    suffix = "png" if suffix_of(path) in _LOSSLESS else "jpg"
    how: dict[str, object] = {"quality": JPEG_QUALITY, "progressive": True, "optimize": True}
    if suffix == "png":
        how = {"compress_level": PNG_EFFORT}
    profile = scaled.info.get("icc_profile")
    made = BytesIO()
    ground.save(made, "JPEG" if suffix == "jpg" else "PNG", icc_profile=profile, **how)
    return Picture(letter_picture_path(path, suffix), *ground.size), made.getvalue()
