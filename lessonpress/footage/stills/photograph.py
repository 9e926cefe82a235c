"""A photograph made fit to be published: turned upright, with nothing in it but the picture.

A phone writes into each photograph where and when it was taken, and with what, and leaves it lying on its
side with a note of how to turn it (Exif 2.32, tag 0x0112). Only the colours of its profile stay. Where it
keeps a second picture for brighter screens behind the first (CIPA DC-007), that one goes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from io import BytesIO

from PIL import Image, ImageOps, UnidentifiedImageError

from lessonpress.footage.stills.colours import bare_profile
from lessonpress.footage.stills.names import FORMATS
from lessonpress.footage.video.failure import FootageError

LARGEST = 60_000_000  # px; a page has no use for more, and a machine no memory for much more
LONGEST = 10  # times the shorter side: a narrower picture is none, and formats have their limits
_SEVERAL = "MPO"  # what Pillow calls a JPEG with another picture behind it
_KEPT = ("icc_profile", "transparency", "background", "duration", "loop")
_QUALITY = 90  # of a picture that is changed; others keep what they had, where their format says


@dataclass(frozen=True)
class Photograph:
    """picture: upright. named: what Pillow calls its format. changed: whether the file holds another."""

    picture: Image.Image
    named: str
    changed: bool

    def seen_as(self, picture: Image.Image) -> Photograph:
        """The same photograph with something changed in its picture."""
        return self if picture is self.picture else replace(self, picture=picture, changed=True)

    @property
    def _info(self) -> dict[str | tuple[int, int], object]:
        return {key: value for key, value in self.picture.info.items() if key in _KEPT}

    @property
    def file(self) -> bytes:
        """The picture in the format that it came in."""
        bare = self.picture.copy() if self.changed else self.picture
        bare.info = self._info
        how: dict[str, object] = {"quality": _QUALITY}
        if self.named == "JPEG" and not self.changed:
            how = {"quality": "keep"}
        elif self.named in ("PNG", "GIF"):
            how = {}
        written = BytesIO()
        bare.save(written, self.named, **how)
        return written.getvalue()

    @property
    def plain(self) -> Image.Image:
        """In RGB, or RGBA where it has clear parts, to be scaled and written in any format."""
        picture = self.picture
        if picture.mode in ("RGB", "RGBA"):
            plain = picture.copy()
            plain.info = self._info  # else what saves it writes a comment of the file into the next one
            return plain
        if picture.mode.startswith("I"):  # 16 bits a pixel, of which Pillow would keep the lower 8
            picture = picture.convert("I").point(lambda level: level / 256).convert("L")
        plain = picture.convert("RGBA" if picture.has_transparency_data else "RGB")
        plain.info = {}  # a profile of another kind of colours
        return plain


def photograph(content: bytes, suffix: str) -> Photograph:
    """The picture of a file. suffix: of the file, without the dot, in small letters.

    Raises FootageError where the file holds no such picture, or one that is damaged or too large.
    """
    named = FORMATS[suffix]
    try:
        with Image.open(BytesIO(content), formats=tuple(dict.fromkeys(FORMATS.values()))) as picture:
            _check(picture, named)
            picture.load()
            profile = bare_profile(picture.info.pop("icc_profile", None) or b"")
            upright = ImageOps.exif_transpose(picture)
            turned = upright.size != picture.size or upright.tobytes() != picture.tobytes()
            upright = upright if turned else picture
            if profile:
                upright.info["icc_profile"] = profile
            return Photograph(upright, named, turned or picture.format == _SEVERAL)
    except UnidentifiedImageError as error:
        raise FootageError(f"it is not a {named} picture", "save it as one, or link to another") from error
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        raise FootageError("it is damaged", "save it again, or take it from where it came") from error


def _check(picture: Image.Image, named: str) -> None:
    """Raises FootageError for a picture that is none of ours, by what the head of its file says."""
    held = "JPEG" if picture.format == _SEVERAL else picture.format or ""
    if held != named:
        right = next(name for name, one in FORMATS.items() if one == held)
        raise FootageError(f"this holds a {held} picture", f"call it `.{right}`, or save it as {named}")
    width, height = picture.size
    if width * height > LARGEST:
        raise FootageError(f"it has {width} × {height} px", "make it 4000 px wide or less")
    if max(width, height) > LONGEST * min(width, height):
        raise FootageError(
            f"it has {width} × {height} px, more than {LONGEST} times as long as it is broad", "crop it"
        )
    if picture.format != _SEVERAL and getattr(picture, "is_animated", False):
        raise FootageError("this picture moves", "put the film into a clip, and show it with a `loop`")
