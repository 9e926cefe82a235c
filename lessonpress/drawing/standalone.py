"""A panel as a drawing of its own: picture, overlays, scale bar, credit; SVG, or PNG from the same SVG."""

from __future__ import annotations

import base64
from functools import cache
from io import BytesIO

import resvg_py
import svgwrite.container
from PIL import Image, ImageOps
from PIL.PngImagePlugin import PngInfo

from lessonpress.drawing import paper
from lessonpress.drawing.faces import face_files, woff2_file, wrapped
from lessonpress.drawing.layout import Layout
from lessonpress.drawing.palette import INK
from lessonpress.drawing.paper import FAMILY, Element, document, group, image, n, rect, sheet, text
from lessonpress.drawing.plate import layout_for, overlays
from lessonpress.drawing.scalebar import HEIGHT as BAR_HEIGHT
from lessonpress.drawing.scalebar import scale_bar
from lessonpress.figures.plates import Panel
from lessonpress.measure.units import Units

WIDTH = 640.0  # CSS px
GROUND = "#FFFFFF"
FOOT_SIZE = 13.0  # CSS px of the heading and credit under the picture
FOOT_LINE = 18.0
FOOT_MARGIN = 10.0
PREFIX = "lp"  # of ids: the drawing is alone in its file


def standalone_svg(
    panel: Panel,
    picture: bytes,
    *,
    title: str,
    description: str,
    units: Units,
    heading: str = "",
    width: float = WIDTH,
    mirrored: bool = False,
) -> str:
    """The panel as one SVG file that needs nothing beside it.

    picture: the crop's JPEG, PNG or WebP, as filmed (mirroring turns it here). title, description: what a
    screen reader says. heading: lettered at the lower left ("Plate II · Impact"), before the credit.
    """
    return _drawn(panel, picture, title, description, units, heading, width, mirrored, faced=True)


def standalone_png(
    panel: Panel,
    picture: bytes,
    *,
    title: str,
    description: str,
    units: Units,
    heading: str = "",
    width: float = WIDTH,
    mirrored: bool = False,
    zoom: float = 2.0,
) -> bytes:
    """The same drawing as PNG, `zoom` px to a CSS px, lettered with the packaged face and no other.

    Title, description and credit also travel inside the file, under the keywords of the PNG specification
    (W3C PNG, third edition, 11.3.3.1), where picture libraries and mail programs look for them.

    The renderer draws all but the picture, which is laid under it: enlarging pictures is what it is slow at.
    """
    # The renderer reads no compressed faces and no weights between the hundreds, so none are put in.
    drawn = _drawn(panel, None, title, "", units, heading, width, mirrored, faced=False)
    over = Image.open(BytesIO(render_png(drawn, zoom))).convert("RGBA")
    layout = layout_for(panel, width, mirrored=mirrored)
    whole = Image.new("RGB", over.size, GROUND)
    whole.paste(_under(picture, layout, zoom))
    whole.paste(over, mask=over)
    return _written(whole, _told(title, description, panel))


def _under(picture: bytes, layout: Layout, zoom: float) -> Image.Image:
    size = (round(layout.width * zoom), round(layout.height * zoom))
    shown = Image.open(BytesIO(picture)).convert("RGB").resize(size, Image.Resampling.LANCZOS)
    return ImageOps.mirror(shown) if layout.mirrored else shown


def _told(title: str, description: str, panel: Panel) -> PngInfo:
    told = PngInfo()
    credit = ", ".join(part for part in (panel.credit.text, panel.credit.licence) if part)
    for keyword, words in (("Title", title), ("Description", description), ("Copyright", credit)):
        if words:
            told.add_itxt(keyword, words)
    return told


def _written(whole: Image.Image, told: PngInfo) -> bytes:
    """PNG of 256 colours: a quarter of the bytes, the overlays' colours kept to one step in 255 (tried)."""
    written = BytesIO()
    whole.quantize(256, method=Image.Quantize.FASTOCTREE).save(written, "PNG", pnginfo=told)
    return written.getvalue()


def render_png(svg: str, zoom: float) -> bytes:
    """An SVG of ours as PNG. Raises ValueError where it is no SVG."""
    rendered = resvg_py.svg_to_bytes(
        svg_string=svg,
        zoom=zoom,
        skip_system_fonts=True,
        font_files=[str(path) for path in face_files()],
        font_family="National Park",
    )
    return bytes(rendered)


def picture_type(picture: bytes) -> str:
    """The media type of a picture by its first bytes. Raises ValueError where it is none of ours."""
    if picture.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if picture.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    if picture[:4] == b"RIFF" and picture[8:12] == b"WEBP":
        return "image/webp"
    raise ValueError("a standalone drawing holds a JPEG, PNG or WebP picture, and this is none of them")


def _drawn(
    panel: Panel,
    picture: bytes | None,
    title: str,
    description: str,
    units: Units,
    heading: str,
    width: float,
    mirrored: bool,
    *,
    faced: bool,
) -> str:
    layout = layout_for(panel, width, mirrored=mirrored)
    bar_height = BAR_HEIGHT if panel.bar else 0.0
    foot = _foot(panel, heading, layout)
    drawing = sheet(layout.width, layout.height + bar_height + _foot_height(foot), sized=True)
    if faced:
        drawing.embed_stylesheet(_face_style())
    if picture is not None:
        drawing.add(rect((0, 0), layout.width, layout.height + bar_height + _foot_height(foot), fill=GROUND))
        drawing.add(_picture(picture, layout))
    drawing.add(_framed(overlays(panel, layout, PREFIX, lettered=True), layout))
    if panel.bar:
        moved = f"translate(0,{n(layout.height)})"
        drawing.add(group(scale_bar(panel.bar, layout, units), transform=moved, color=INK))
    drawing.add(_lettered(foot, layout.height + bar_height))
    drawing.set_desc(title=title, desc=description or None)
    return document(drawing)


def _picture(picture: bytes, layout: Layout) -> Element:
    data = base64.b64encode(picture).decode("ascii")
    turned = {"transform": f"translate({n(layout.width)},0) scale(-1,1)"} if layout.mirrored else {}
    return image(f"data:{picture_type(picture)};base64,{data}", layout.width, layout.height, **turned)


def _framed(elements: list[Element], layout: Layout) -> Element:
    """The overlays, held inside the picture: an inner svg element hides what runs over its edge."""
    inner = svgwrite.container.SVG(
        insert=("0", "0"), size=(n(layout.width), n(layout.height)), debug=paper.CHECKED
    )
    for element in elements:
        inner.add(element)
    return inner


def _foot(panel: Panel, heading: str, layout: Layout) -> list[tuple[str, int]]:
    """The lines under the picture with their weights: the heading, then the credit."""
    room = layout.width - 2 * FOOT_MARGIN
    credit = ", ".join(part for part in (panel.credit.text, panel.credit.licence) if part)
    lines = [(line, 700) for line in wrapped(heading, FOOT_SIZE, 700, room)]
    return lines + [(line, 500) for line in wrapped(credit, FOOT_SIZE, 500, room)]


def _foot_height(foot: list[tuple[str, int]]) -> float:
    return FOOT_LINE * len(foot) + FOOT_MARGIN if foot else 0.0


def _lettered(foot: list[tuple[str, int]], top: float) -> Element:
    lines = [
        text(words, (FOOT_MARGIN, top + FOOT_LINE * (k + 1)), font_weight=weight)
        for k, (words, weight) in enumerate(foot)
    ]
    return group(lines, font_family=FAMILY, font_size=n(FOOT_SIZE), fill=INK, class_="foot")


@cache
def _face_style() -> str:
    """The plate face inside the file, so that a drawing that travels alone is lettered as it was measured."""
    data = base64.b64encode(woff2_file().read_bytes()).decode("ascii")
    return (
        '@font-face{font-family:"National Park";font-weight:400 700;'
        f"src:url(data:font/woff2;base64,{data})}}.value{{font-weight:650}}"
    )
