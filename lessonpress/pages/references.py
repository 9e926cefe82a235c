"""Links between the site's own Markdown files, `[the hub](hub.md)`, led to the pages made of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from urllib.parse import unquote, urlsplit

from lessonpress.manuscript import Site, file_of, target_of
from lessonpress.pages.links import Linker, attached_path, lesson_path, page_path


def pages_by_source(site: Site) -> dict[str, str]:
    """Each Markdown file of the site, relative to its folder → the page made of it; files that come along."""
    pages = {f"lessons/{lesson.name}.md": lesson_path(lesson.folder) for lesson in site.pressed}
    pages |= {f"pages/{name}.md": page_path(name) for name in site.pages}
    return pages | {path: attached_path(path) for path in site.files}


def href_from(source: str, link: Linker, pages: Mapping[str, str]) -> Callable[[str], str]:
    """How links written in the file `source` are printed on the page of `link`; pages: by source.

    A link to a lesson's or page's file becomes one to its page, one to a file that came along leads there;
    every other is left as it was written.
    """

    def printed(href: str) -> str:
        target = pages.get(target_of(source, href) or file_of(source, href, picture=True) or "")
        return href if target is None else link(target, unquote(urlsplit(href).fragment))

    return printed
