"""The plain pages of `pages/`, a reader's settings, notes of what was withdrawn, what is not found."""

from __future__ import annotations

from urllib.parse import urlsplit

from lessonpress.manuscript import Page
from lessonpress.pages.body import glossed
from lessonpress.pages.frame import PageContext
from lessonpress.pages.glossary import Gloss, terms_of
from lessonpress.pages.links import GLOSSARY_PAGE, NOT_FOUND_PAGE, SETTINGS_PAGE, Linker, page_path
from lessonpress.pages.markdown import Writing, render
from lessonpress.pages.prose import ProseContext
from lessonpress.pages.references import href_from
from lessonpress.pages.stills import on_page


def plain_page(page: Page, context: PageContext) -> tuple[str, bytes]:
    """The path and the content of one file of `pages/`."""
    path = page_path(page.name)
    printing = ProseContext({}, {}, context.bound.site.units, say=context.say)
    source, link = f"pages/{page.name}.md", Linker(path)
    href, picture = href_from(source, link, context.sources), on_page(source, link, context.stills)
    body = render(page.body, Writing(printing, href=href, picture=picture, outline=1))
    return path, context.page("page.html", path, title=page.title, summary=page.summary, body=body)


def settings_page(context: PageContext) -> tuple[str, bytes]:
    """Where a reader chooses units, side, light and size of text."""
    title, summary = context.words["mine"]["title"], context.words["mine"]["summary"]
    return SETTINGS_PAGE, context.page(
        "settings.html", SETTINGS_PAGE, title=title, summary=summary, listed=False
    )


def glossary_page(context: PageContext) -> tuple[str, bytes]:
    """Every term that lessons explain where they first use it, in the order of the alphabet."""
    terms = sorted((term.gloss for term in terms_of(context.bound.site, context.words)), key=_by_letters)
    printing = ProseContext({}, {}, context.bound.site.units, say=context.say)
    writing = Writing(printing, href=href_from("glossary.yaml", Linker(GLOSSARY_PAGE), context.sources))
    title = context.words["glossary"]["title"]
    return GLOSSARY_PAGE, context.page(
        "glossary.html", GLOSSARY_PAGE, title=title, glosses=glossed(terms, writing)
    )


def _by_letters(gloss: Gloss) -> str:
    return gloss.term.casefold()


def withdrawn_note(path: str, context: PageContext, *, put_away: bool = False) -> tuple[str, bytes]:
    """The note at the address of a lesson that was withdrawn, or put away; it says nothing else of it."""
    title = context.words["put_away" if put_away else "withdrawn"]["title"]
    return path, context.page("withdrawn.html", path, title=title, put_away=put_away, listed=False)


def not_found(context: PageContext) -> tuple[str, bytes]:
    """404.html. A host sends it for an address of any depth, so that it links from the root of the host.

    The path of the site's url leads to the site from there. The host itself is left out: a page asks for its
    faces where it was served, and a browser refuses those of another host.
    """
    path = urlsplit(context.bound.site.url or "").path.rstrip("/")
    link = Linker(NOT_FOUND_PAGE, base=f"{path}/")
    return NOT_FOUND_PAGE, context.page(
        "404.html",
        NOT_FOUND_PAGE,
        title=context.words["not_found"]["title"],
        link=link,
        listed=False,
    )
