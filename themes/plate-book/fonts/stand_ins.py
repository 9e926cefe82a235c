"""Write styles/stand-ins.css: faces that most devices have, set to the size of the plate book's own.

    python -m pip install fonttools brotli uharfbuzz
    python stand_ins.py FOLDER

FOLDER holds FAMILY-Regular and FAMILY-Bold (.ttf or .woff2) of each family in STAND_INS.

Until the theme's own faces have come, the browser sets text in one of these. Its size is adjusted so that a
sample of text is as wide as in our face, kerning included. Its ascent, descent and line gap become ours, so
that no line moves when our face comes. Source of the descriptors: CSS Fonts Module Level 5, `size-adjust` and
`ascent-override`.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import uharfbuzz as hb
from fontTools.ttLib import TTFont

HERE = Path(__file__).resolve().parent
SAMPLE = (
    "Between setup and the top the belt buckle moves about four inches away from the target, then eight "
    "toward it. Keep the head where it was: a clubhead at 0.75 s is 12.4 in ± 0.6 behind the hands, and the "
    "pelvis leads. Every number on these pages is measured in the picture, and the ledger says how sure."
)


@dataclass(frozen=True)
class Own:
    """One of our faces. weights: the two at which it is set most, as regular and as bold."""

    family: str
    file: str
    weights: tuple[int, int]


@dataclass(frozen=True)
class StandIn:
    """A family that devices have. locals: of regular and of bold, the full names, then the PostScript names.

    file: the family whose files are measured; Liberation has the widths of Times New Roman and of Arial.
    """

    name: str
    file: str
    locals: tuple[tuple[str, ...], tuple[str, ...]]


TEXT = Own("Vollkorn", "vollkorn.woff2", (400, 600))
PLATE = Own("National Park", "national-park.woff2", (500, 600))
STAND_INS = (
    (
        TEXT,
        StandIn(
            "Times",
            "LiberationSerif",
            (
                ("Times New Roman", "TimesNewRomanPSMT", "Liberation Serif", "LiberationSerif"),
                (
                    "Times New Roman Bold",
                    "TimesNewRomanPS-BoldMT",
                    "Liberation Serif Bold",
                    "LiberationSerif-Bold",
                ),
            ),
        ),
    ),
    (
        TEXT,
        StandIn(
            "Noto Serif",
            "NotoSerif",
            (
                ("Noto Serif", "Noto Serif Regular", "NotoSerif", "NotoSerif-Regular"),
                ("Noto Serif Bold", "NotoSerif-Bold"),
            ),
        ),
    ),
    (
        TEXT,
        StandIn(
            "DejaVu Serif",
            "DejaVuSerif",
            (("DejaVu Serif", "DejaVuSerif"), ("DejaVu Serif Bold", "DejaVuSerif-Bold")),
        ),
    ),
    (
        PLATE,
        StandIn(
            "Arial",
            "LiberationSans",
            (
                ("Arial", "ArialMT", "Liberation Sans", "LiberationSans"),
                ("Arial Bold", "Arial-BoldMT", "Liberation Sans Bold", "LiberationSans-Bold"),
            ),
        ),
    ),
    (
        PLATE,
        StandIn(
            "Roboto",
            "Roboto",
            (("Roboto", "Roboto Regular", "Roboto-Regular"), ("Roboto Bold", "Roboto-Bold")),
        ),
    ),
    (
        PLATE,
        StandIn(
            "DejaVu Sans",
            "DejaVuSans",
            (("DejaVu Sans", "DejaVuSans"), ("DejaVu Sans Bold", "DejaVuSans-Bold")),
        ),
    ),
)
STYLES = (("Regular", "400 500"), ("Bold", "600 700"))
HEAD = "/* Written by fonts/stand_ins.py, which says what these are. */\n"


def width(font: TTFont, weight: int | None = None) -> float:
    """The sample's width in ems, at a weight of a variable font or as the font is."""
    content = io.BytesIO()
    font.flavor = None
    font.save(content)
    shaped = hb.Font(hb.Face(content.getvalue()))
    if weight is not None:
        shaped.set_variations({"wght": weight})
    buffer = hb.Buffer()
    buffer.add_str(SAMPLE)
    buffer.guess_segment_properties()
    hb.shape(shaped, buffer, {"kern": True, "liga": True})
    return sum(place.x_advance for place in buffer.glyph_positions) / shaped.face.upem


def heights(font: TTFont) -> tuple[float, float, float]:
    """Ascent, descent and line gap in ems as browsers take them: of `hhea`, or of OS/2 where it says so."""
    typographic = font["OS/2"].fsSelection & 1 << 7
    table = font["OS/2"] if typographic else font["hhea"]
    names = (
        ("sTypoAscender", "sTypoDescender", "sTypoLineGap")
        if typographic
        else ("ascent", "descent", "lineGap")
    )
    ascent, descent, gap = (getattr(table, name) / font["head"].unitsPerEm for name in names)
    return ascent, -descent, gap


def rules(folder: Path) -> Iterator[str]:
    """One @font-face for each stand-in and style."""
    for own, other in STAND_INS:
        ours = TTFont(HERE / own.file)
        ascent, descent, gap = heights(ours)
        for (style, range_), weight, names in zip(STYLES, own.weights, other.locals, strict=True):
            theirs = TTFont(next(folder.glob(f"{other.file}-{style}.*")))
            adjust = width(ours, weight) / width(theirs)
            sources = ", ".join(f'local("{name}")' for name in names)
            yield (
                f'@font-face {{ font-family: "{own.family} by {other.name}"; src: {sources};'
                f" font-weight: {range_}; size-adjust: {adjust:.2%}; ascent-override: {ascent / adjust:.2%};"
                f" descent-override: {descent / adjust:.2%}; line-gap-override: {gap / adjust:.2%}; }}"
            )


def main(folder: Path) -> None:
    (HERE.parent / "styles" / "stand-ins.css").write_text(
        HEAD + "\n".join(rules(folder)) + "\n", encoding="utf-8"
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
