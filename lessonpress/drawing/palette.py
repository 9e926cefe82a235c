"""The colours of overlays, after Okabe and Ito's set, and what keeps each one legible on any picture.

Every stroke lies on a casing of paper. Blue and black are drawn on it directly; the others get an edge of ink
between casing and core, a fine one where the colour is middling and a full one ("inlaid") where it is light.
"""

from __future__ import annotations

from lessonpress.overlays import Colour

# the packaged theme's, by day (styles/tokens.css), so that a drawing looks the same where it travels alone
PAPER = "#FFFDF4"  # casing and tags, in day and night alike
INK = "#101214"
GROUND = "#FFFFFF"  # of a drawing that travels alone
STAMP = "#55208A"  # of a chart's numbers and their bands
CASING_OPACITY = 0.94
CASING = 1.7  # CSS px wider than the stroke, on each side
STANDING_CASING = 1.4

# Okabe and Ito, Color Universal Design (2008)
COLOURS: dict[Colour, str] = {
    "black": "#000000",
    "blue": "#0072B2",
    "vermilion": "#D55E00",
    "green": "#009E73",
    "purple": "#CC79A7",
    "sky": "#56B4E9",
    "orange": "#E69F00",
    "yellow": "#F0E442",
}

# edge of ink between casing and core, CSS px on each side
EDGE: dict[Colour, float] = {
    "black": 0.0,
    "blue": 0.0,
    "vermilion": 0.65,
    "green": 0.65,
    "purple": 1.0,
    "sky": 1.0,
    "orange": 1.0,
    "yellow": 1.0,
}


def inlaid(colour: Colour) -> bool:
    """Whether the colour is too light to be drawn on the casing without a full edge of ink."""
    return EDGE[colour] >= 1.0


def letter_colour(colour: Colour) -> str:
    """The colour of a letter on a cell of `colour`: white on the two dark ones, black on the rest."""
    return "#FFFFFF" if colour in ("black", "blue") else "#000000"
