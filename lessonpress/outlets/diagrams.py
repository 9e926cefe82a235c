"""Each panel of a plate as a picture of its own, to be used again in a newsletter or a talk: SVG and PNG."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from lessonpress.drawing import standalone_png, standalone_svg
from lessonpress.figures.plates import BoundLesson, Panel, Plate
from lessonpress.measure.units import Units
from lessonpress.pages import links

PictureOf = Callable[[Panel], bytes]


def diagrams(lesson: BoundLesson, units: Units, picture_of: PictureOf) -> Iterator[tuple[str, bytes]]:
    """(path, bytes) of the SVG and the PNG of every panel, where the pages link them.

    picture_of: the panel's crop as WebP, JPEG or PNG.
    """
    for plate in lesson.plates:
        for place, panel in enumerate(plate.panels):
            path = (lesson.lesson.name, plate.id, place, len(plate.panels))
            svg, png = _drawn(plate, panel, units, picture_of(panel))
            yield links.diagram(*path, "svg"), svg
            yield links.diagram(*path, "png"), png


def _drawn(plate: Plate, panel: Panel, units: Units, picture: bytes) -> tuple[bytes, bytes]:
    heading = f"Plate {plate.numeral} · {panel.label}"
    title = panel.alt or plate.alt
    svg = standalone_svg(
        panel,
        picture,
        title=title,
        description=plate.description,
        units=units,
        heading=heading,
        mirrored=plate.mirrored,
    )
    png = standalone_png(panel, picture, title=title, units=units, heading=heading, mirrored=plate.mirrored)
    return svg.encode(), png
