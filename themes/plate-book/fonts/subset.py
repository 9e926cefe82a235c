"""Cut the two faces of the plate book from the families' published variable fonts to what a lesson needs.

    python -m pip install fonttools brotli
    python subset.py FOLDER

FOLDER holds vollkorn.woff2 and national-park.woff2, the Latin part of each family with its weight axis, and
their licences as vollkorn.txt and national-park.txt.

Writes beside itself vollkorn.woff2 and national-park.woff2 (weights 400 to 700, for standalone SVG), each in
two parts for pages (NAME-plain.woff2 has what English needs, NAME-more.woff2 the rest; styles/faces.css says
which signs those are), static national-park-WEIGHT.ttf (for PNG and for measuring the width of a tag's text,
where variable and compressed fonts are not read) and both licences.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

HERE = Path(__file__).resolve().parent
# Latin with its signs (± ° × ÷ ½ among them), Œ œ ı, dashes, quotes, bullet, ellipsis, primes, minus,
# fraction slash, euro, single angle quotes, thin and narrow no-break space, no-break hyphen.
CHARACTERS = (
    *range(0x20, 0x7F),
    *range(0xA0, 0x100),
    *map(ord, "Œœı–—‘’‚“”„…•′″−⁄€‹›\u2009\u202f\u2011"),
)
# what every English page may need; these are `unicode-range` of the plain faces in styles/faces.css
PLAIN = (*range(0x20, 0x7F), *map(ord, "\u00a0§©«°±²³·»¼½¾×÷–—‘’“”…•′″−⁄‹›\u2009\u202f\u2011"))
PLATE_CHARACTERS = (*range(0x20, 0x7F), *range(0xA0, 0x100), *map(ord, "Œœı–—‘’“”…•′″−\u2009\u202f"))
TEXT_FEATURES = ["kern", "liga", "locl", "mark", "ccmp", "lnum", "tnum", "pnum"]
PLATE_FEATURES = ["kern", "mark", "ccmp", "tnum"]
STATIC_WEIGHTS = (500, 650, 700)
KEPT_NAMES = [0, 1, 2, 3, 4, 5, 6, 13, 14, 16, 17]


def cut(font: TTFont, characters: tuple[int, ...], features: list[str], path: Path) -> None:
    """Keep the characters and features named and write the font; woff2 by the path's ending."""
    flavour = "woff2" if path.suffix == ".woff2" else None
    options = subset.Options(layout_features=features, hinting=False, notdef_outline=True, flavor=flavour)
    options.name_IDs = KEPT_NAMES
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=characters)
    subsetter.subset(font)
    font.flavor = flavour
    font.recalcTimestamp = False
    font.save(path)
    print(f"{path.name}: {path.stat().st_size} bytes, {len(font.getBestCmap())} characters")


def variable(source: Path) -> TTFont:
    """The face with its weight axis cut to 400..700."""
    font = instancer.instantiateVariableFont(TTFont(source), {"wght": (400, 700)})
    for glyph in font.getGlyphOrder():  # the subsetter expects an entry for each glyph, varied or not
        font["gvar"].variations.setdefault(glyph, [])
    return font


def static(source: Path, weight: int) -> TTFont:
    """One weight of the face, named as the one family so that a weight is chosen by its number."""
    font = instancer.instantiateVariableFont(TTFont(source), {"wght": weight})
    font["OS/2"].usWeightClass = weight
    return font


def split(whole: Path) -> None:
    """A face in two parts, so that a page asks for accents only where it has some."""
    every = tuple(TTFont(whole).getBestCmap())
    for part, characters in (
        ("plain", tuple(one for one in every if one in PLAIN)),
        ("more", tuple(one for one in every if one not in PLAIN)),
    ):
        cut(TTFont(whole), characters, ["*"], whole.with_name(f"{whole.stem}-{part}.woff2"))


def main(published: Path) -> None:
    text, plate = published / "vollkorn.woff2", published / "national-park.woff2"
    cut(variable(text), CHARACTERS, TEXT_FEATURES, HERE / "vollkorn.woff2")
    cut(variable(plate), CHARACTERS, PLATE_FEATURES, HERE / "national-park.woff2")
    for face in (text, plate):
        split(HERE / face.name)
    for weight in STATIC_WEIGHTS:
        cut(static(plate, weight), PLATE_CHARACTERS, PLATE_FEATURES, HERE / f"national-park-{weight}.ttf")
    for name in ("vollkorn", "national-park"):
        shutil.copyfile(published / f"{name}.txt", HERE / f"OFL-{name}.txt")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
