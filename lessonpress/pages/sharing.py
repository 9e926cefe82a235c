"""The drawn picture of a lesson that is shown where its address is shared (Open Graph protocol, ogp.me)."""

from __future__ import annotations

from lessonpress.figures import BoundLesson
from lessonpress.pages.frame import PageContext
from lessonpress.pages.links import diagram_paths
from lessonpress.pages.pictures import emblem_panel


def shared_picture(bound: BoundLesson, context: PageContext) -> tuple[str, str] | None:
    """Its address and its alt text; None for a lesson without pictures, or a site without a url."""
    panel = emblem_panel(bound)
    if panel is None or not context.bound.site.url:
        return None
    plate = next(one for one in bound.plates if panel in one.panels)
    path = diagram_paths(bound.lesson.folder, plate, "png")[plate.panels.index(panel)]
    return context.address(path), panel.alt or plate.alt
