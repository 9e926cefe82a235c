"""What every page has: head, masthead, foot. Each kind of page adds its own values and names its template."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from jinja2.utils import Namespace
from markupsafe import Markup

from lessonpress.figures import BoundSite
from lessonpress.manuscript import ICONS
from lessonpress.overlays import Words
from lessonpress.pages.dates import long_date, short_date
from lessonpress.pages.links import (
    ARCHIVE_PAGE,
    ATOM_FEED,
    GLOSSARY_PAGE,
    HOME_PAGE,
    JSON_FEED,
    SEARCH_PAGE,
    SETTINGS_PAGE,
    TOPICS_PAGE,
    Linker,
    card_path,
    lesson_path,
    measures_path,
    page_path,
    topic_path,
    year_path,
)
from lessonpress.pages.pictures import PictureBook
from lessonpress.pages.references import pages_by_source
from lessonpress.pages.stills import Still
from lessonpress.pages.theme import Theme
from lessonpress.pages.topics import Topic, key_of, slugs_by_key, topics_of
from lessonpress.pages.words import counted, fit, from_small, phrase

# where files of the site lie, by the names that templates have for them
_LINKS = Namespace(
    HOME=HOME_PAGE,
    ARCHIVE=ARCHIVE_PAGE,
    TOPICS=TOPICS_PAGE,
    SETTINGS=SETTINGS_PAGE,
    SEARCH=SEARCH_PAGE,
    GLOSSARY=GLOSSARY_PAGE,
    ATOM=ATOM_FEED,
    JSON_FEED=JSON_FEED,
    lesson=lesson_path,
    card=card_path,
    page=page_path,
    topic=topic_path,
    year=year_path,
    measures=measures_path,
)


@dataclass(frozen=True)
class PageContext:
    """The site, its pictures and its theme: what all pages are made from."""

    bound: BoundSite
    book: PictureBook
    theme: Theme
    words: Mapping[str, Any]

    def page(self, template: str, path: str, title: str, summary: str = "", **values: object) -> bytes:
        """One page, rendered. title: "" for the home page; values: what else the template asks for."""
        html = self._render(
            template,
            **{
                "link": Linker(path),
                "listed": True,
                "feeds": (),
                "searches": False,
                "shared": None,
                **values,
            },
            title=title,
            summary=summary,
            style=self.style_path,
            icon=self.icon_path,
            scripts=self.scripts,
            searchable=self.searchable,
            described=self.described,
            address=self.address(path),
        )
        return html.encode("utf-8")

    def letter(self, **values: object) -> str:
        """A letter in HTML, its styles still in its head."""
        return self._render("letter.html", **values)

    def part(self, template: str, link: Linker, **values: object) -> Markup:
        """A piece of a page, such as a plate, rendered for the page that `link` is on."""
        return Markup(self._render(f"parts/{template}", link=link, **values))

    @property
    def style_path(self) -> str:
        """Of the style sheet, from the site's root."""
        return self.theme.style_path

    def say(self, english: str) -> str:
        """What the program says in English, in the theme's words."""
        return phrase(english, self.words)

    @property
    def in_english(self) -> Markup:
        """The attribute of an element with words made in English, on a page of another language."""
        language = self.bound.site.language.casefold().split("-")[0]
        return Markup("" if language == "en" else ' lang="en"')

    @property
    def described(self) -> str:
        """What the site is, for search engines and for those who share its address."""
        foot, author = self.words["foot"], self.bound.site.author
        return str(foot["notebook_text"].format(author=author) if author else foot["notebook_text_alone"])

    @property
    def icon_path(self) -> str:
        """Of the site's own icon, from the site's root; "" where it has none."""
        return next((name for name in ICONS if name in self.bound.site.root_files), "")

    @property
    def searchable(self) -> bool:
        """Whether the site has a page to search it."""
        return False

    @property
    def scripts(self) -> Mapping[str, tuple[str, ...]]:
        """By a script's name its path from the site's root, and those of all modules that it imports."""
        return {name: (script.path, *script.needs) for name, script in self.theme.scripts.items()}

    @cached_property
    def topics(self) -> tuple[Topic, ...]:
        """The topics of the listed lessons."""
        return topics_of(bound for bound in self.bound.lessons if bound.lesson.listed)

    @cached_property
    def topic_slugs(self) -> dict[str, str]:
        return slugs_by_key(self.topics)

    @cached_property
    def sources(self) -> dict[str, str]:
        """The site's Markdown files → the pages made of them."""
        return pages_by_source(self.bound.site)

    @cached_property
    def stills(self) -> Mapping[str, Still]:
        """The author's own pictures by their paths, as the press has taken them in."""
        return {}

    def topic_links(self, names: Iterable[str]) -> tuple[tuple[str, str], ...]:
        """Each topic of a lesson with the path of its page, "" for one that no listed lesson has."""
        slugs = {name: self.topic_slugs.get(key_of(name)) for name in names}
        return tuple((name, topic_path(slug) if slug else "") for name, slug in slugs.items())

    def address(self, path: str) -> str:
        """Where the page will be on the web: the site's url with the path, without a closing index.html."""
        url = self.bound.site.url
        if not url:
            return ""
        return Linker(path, base=url)(path.removesuffix("index.html"))

    def _render(self, template: str, **values: object) -> str:
        implement = self.bound.site.implement
        return self.theme.render(
            template,
            site=self.bound.site,
            words=self.words,
            links=_LINKS,
            fit=fit,
            long_date=lambda day: long_date(day, self.words),
            short_date=lambda day: short_date(day, self.words),
            spoken=Words(implement.name, implement.head).spoken,
            from_small=from_small,
            say=self.say,
            in_english=self.in_english,
            counted=lambda number, noun: counted(number, noun, self.words),
            **values,
        )
