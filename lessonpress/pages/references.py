"""Links between the site's own Markdown files, `[the hub](hub.md)`, led to the pages made of them."""

from __future__ import annotations

from collections.abc import Callable
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

from lessonpress.manuscript.site import Site
from lessonpress.pages import links
from lessonpress.pages.links import Linker


def href_from(source: str, link: Linker, site: Site) -> Callable[[str], str]:
    """How links written in the file `source` of the site are printed on the page of `link`.

    A link to a lesson's or page's file becomes one to its page; every other is left as it was written.
    """
    pages = {f"lessons/{lesson.name}.md": links.lesson(lesson.name) for lesson in site.lessons}
    pages |= {f"pages/{name}.md": links.page(name) for name in site.pages}

    def printed(href: str) -> str:
        parts = urlsplit(href)
        if parts.scheme or parts.netloc or not parts.path.endswith(".md"):
            return href
        target = pages.get(normpath(join(dirname(source), unquote(parts.path))))
        return href if target is None else link(target, unquote(parts.fragment))

    return printed
