"""How large a video may be, so that one file cannot take the machine's memory or the author's day."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from lessonpress.footage.video.failure import FootageError

LEAST_SIDE = 16  # px: a block of the codecs; on less no mark can be placed, nor a loop be cut
LONGEST_SIDE = 16_383  # px: what a WebP picture can be (RFC 9649, 2.4, less one as its library has it)
MOST_PIXELS = 64_000_000  # twice 8K: some 200 MB as RGB, of which a press holds a few at a time
MOST_STRETCH = 4  # pixel aspect: anamorphic film has 2 : 1, the widest of broadcasting is below that
MOST_PICTURES = 200_000  # 55 minutes at 60 a second, 13 at 240; a clip holds one swing
SMALLER = "export it smaller"


def refuse_too_many(count: int, path: Path) -> None:
    """Raises FootageError for more pictures than a clip may have."""
    if count > MOST_PICTURES:
        raise FootageError(
            f"{path.name} holds more than {MOST_PICTURES} pictures", "cut the one swing out of it"
        )


def refuse_odd_size(size: tuple[int, int], path: Path) -> None:
    """Raises FootageError for stored or upright pictures, (width, height) in px, beyond what is worked on."""
    width, height = size
    size_words = f"{path.name} has pictures of {width} × {height} px"
    if min(size) < LEAST_SIDE:
        raise FootageError(
            f"{size_words}, too small to place marks on", f"film with {LEAST_SIDE} px or more a side"
        )
    if max(size) > LONGEST_SIDE or width * height > MOST_PIXELS:
        most = f"at most {LONGEST_SIDE} px a side and {MOST_PIXELS // 1_000_000} million in all are worked on"
        raise FootageError(f"{size_words}; {most}", SMALLER)


def refuse_odd_pixels(aspect: Fraction, path: Path) -> None:
    """Raises FootageError for a pixel aspect (width to height) that no camera has."""
    if not Fraction(1, MOST_STRETCH) <= aspect <= MOST_STRETCH:
        raise FootageError(
            f"{path.name} says that its pixels are {aspect.numerator} : {aspect.denominator} wide to high, "
            "which no camera makes",
            "export it with square pixels",
        )
