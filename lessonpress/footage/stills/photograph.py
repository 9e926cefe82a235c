"""A photograph made fit to be published: turned upright, with nothing in it but the picture.

A phone writes into each photograph where and when it was taken, and with what, and leaves it lying on its
side with a note of how to turn it (Exif 2.32, tag 0x0112). Only the colour profile stays.
"""

from __future__ import annotations

from io import BytesIO

from PIL import Image, ImageOps, UnidentifiedImageError

from lessonpress.footage.stills.names import FORMATS
from lessonpress.footage.video.failure import FootageError

LARGEST = 60_000_000  # px; a page has no use for more, and a machine no memory for much more
_KEPT = ("icc_profile", "transparency", "background", "duration", "loop")
_QUALITY = 90  # of a picture that is turned; others keep what they had, where their format says


def photograph(content: bytes, suffix: str) -> bytes:
    """The picture in the same format. suffix: of its file, without the dot, in small letters.

    Raises FootageError where the file holds no such picture, or one that is damaged or too large.
    """
    named = FORMATS[suffix]
    try:
        with Image.open(BytesIO(content), formats=tuple(dict.fromkeys(FORMATS.values()))) as picture:
            held = picture.format or ""
            if held != named:
                right = next(name for name, one in FORMATS.items() if one == held)
                raise FootageError(
                    f"this holds a {held} picture", f"call it `.{right}`, or save it as {named}"
                )
            if picture.width * picture.height > LARGEST:
                raise FootageError(
                    f"it has {picture.width} × {picture.height} px", "make it 4000 px wide or less"
                )
            if getattr(picture, "is_animated", False):
                raise FootageError(
                    "this picture moves", "put the film into a clip, and show it with a `loop`"
                )
            picture.load()
            return _written(picture, named)
    except UnidentifiedImageError as error:
        raise FootageError(f"it is not a {named} picture", "save it as one, or link to another") from error
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        raise FootageError("it is damaged", "save it again, or take it from where it came") from error


def _written(picture: Image.Image, named: str) -> bytes:
    upright = ImageOps.exif_transpose(picture)
    turned = upright.size != picture.size or upright.tobytes() != picture.tobytes()
    bare = upright if turned else picture
    bare.info = {key: value for key, value in bare.info.items() if key in _KEPT}
    how: dict[str, object] = {"quality": _QUALITY}
    if named == "JPEG" and not turned:
        how = {"quality": "keep"}
    elif named in ("PNG", "GIF"):
        how = {}
    written = BytesIO()
    bare.save(written, named, **how)
    return written.getvalue()
