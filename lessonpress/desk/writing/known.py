"""What a site has that may be named in a lesson's text."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from lessonpress.figures import BoundLesson, SurveyedClip
from lessonpress.manuscript import Lesson, Node, Scalar, Sequence, Site
from lessonpress.manuscript import Mapping as MappingNode


@dataclass(frozen=True)
class Known:
    """site: with the lesson as it is typed. lesson: that one, None where its front matter makes none.

    film: a clip ready for figures, None where its card cannot be used. bound: the lesson bound to its clips,
    its tempo among its measures; both are asked for only where they are needed.
    """

    site: Site
    lesson: Lesson | None
    film: Callable[[str], SurveyedClip | None]
    bound: Callable[[], BoundLesson | None]

    def clips_at(self, named: Iterable[str]) -> tuple[SurveyedClip, ...]:
        """The clips that a figure names, else the lesson's own."""
        names = [name for name in dict.fromkeys(named) if name in self.site.clips]
        if not names and self.lesson is not None and self.lesson.clip in self.site.clips:
            names = [self.lesson.clip]
        return tuple(film for name in names if (film := self.film(name)) is not None)

    def measures_of_lessons(self) -> Mapping[str, tuple[str, ...]]:
        """The ids that lessons give to numbers, with the names of those lessons."""
        found: dict[str, dict[str, None]] = {}
        for lesson in self.site.lessons:
            for block in lesson.blocks:
                for name in _ids(block.node):
                    found.setdefault(name, {})[lesson.name] = None
        return {name: tuple(lessons) for name, lessons in found.items()}


def _ids(node: Node | None) -> Iterator[str]:
    draw = node.get("draw") if isinstance(node, MappingNode) else None
    for overlay in draw.items if isinstance(draw, Sequence) else ():
        given = overlay.get("as") if isinstance(overlay, MappingNode) else None
        if isinstance(given, Scalar):
            yield given.written
