"""Each panel of a plate as a picture of its own, to be used again in a newsletter or a talk: SVG and PNG."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from lessonpress.drawing import standalone_png, standalone_svg
from lessonpress.figures.plates import BoundLesson, Panel
from lessonpress.measure.units import Units
from lessonpress.pages import links

PictureOf = Callable[[Panel], Path]


@dataclass(frozen=True)
class Diagram:
    """What one drawing is made from; it can be handed to another process. picture: the panel's crop.

    svg_path, png_path: where the pages link them.
    """

    svg_path: str
    png_path: str
    panel: Panel
    picture: Path
    heading: str
    title: str
    description: str
    units: Units
    mirrored: bool

    def svg(self) -> bytes:
        return standalone_svg(
            self.panel,
            self.picture.read_bytes(),
            title=self.title,
            description=self.description,
            units=self.units,
            heading=self.heading,
            mirrored=self.mirrored,
        ).encode()

    def png(self) -> bytes:
        return standalone_png(
            self.panel,
            self.picture.read_bytes(),
            title=self.title,
            description=self.description,
            units=self.units,
            heading=self.heading,
            mirrored=self.mirrored,
        )


def diagrams(lesson: BoundLesson, units: Units, plate_word: str, picture_of: PictureOf) -> Iterator[Diagram]:
    """One for each panel of each plate, in the lesson's order. plate_word: the theme's, for the heading."""
    for plate in lesson.plates:
        for place, panel in enumerate(plate.panels):
            path = (lesson.lesson.name, plate.id, place, len(plate.panels))
            yield Diagram(
                links.diagram(*path, "svg"),
                links.diagram(*path, "png"),
                panel,
                picture_of(panel),
                heading=f"{plate_word} {plate.numeral} · {panel.label}",
                title=panel.alt or plate.alt,
                description=plate.description,
                units=units,
                mirrored=panel.mirrored,
            )
