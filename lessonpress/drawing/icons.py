"""A theme's icon in pixels, for the places where devices put installed sites."""

from __future__ import annotations

from io import BytesIO

from PIL import Image

from lessonpress.drawing.rendering import render_png

SIDES = (192, 512)  # px
SAFE = (
    0.8  # of a side: what is within this circle is always shown (W3C, Web Application Manifest, "safe zone")
)
_SIDE = 512  # of the drawing, px


def icons_of(svg: str) -> dict[tuple[int, bool], bytes]:
    """(px of a side, whether the device may cut it to a form of its own) → PNG.

    svg: 512 × 512, its ground out to the edges and all that matters in the circle of `SAFE`. An icon that is
    shown as it is has only the square round that circle. Raises ValueError where it is no such SVG.
    """
    made = {}
    for side in SIDES:
        made[side, True] = _drawn(svg, side)
        whole = round(side / SAFE)
        edge = (whole - side) // 2
        large = Image.open(BytesIO(_drawn(svg, whole)))
        cut = BytesIO()
        large.crop((edge, edge, edge + side, edge + side)).save(cut, "PNG", optimize=True)
        made[side, False] = cut.getvalue()
    return made


def _drawn(svg: str, side: int) -> bytes:
    png = render_png(svg, side / _SIDE)
    size = Image.open(BytesIO(png)).size
    if size != (side, side):
        raise ValueError(f"an icon of {_SIDE} × {_SIDE} px comes out {size[0]} × {size[1]} at {side} px")
    return png
