"""A site: `site.yaml`, the glossary, and every clip, lesson and page under its folder."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from lessonpress.manuscript.clip.clip import Clip
from lessonpress.manuscript.fields.expectations import Expectation
from lessonpress.manuscript.fields.fieldtypes import (
    EventName,
    ExpectationText,
    MappingNode,
    Name,
    SizeText,
    Text,
)
from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.fields.written import Written
from lessonpress.manuscript.lesson.lesson import Lesson
from lessonpress.manuscript.lesson.page import Page
from lessonpress.manuscript.site.mailaddress import mail_address, way_out_of_list
from lessonpress.manuscript.site.siteaddress import site_address
from lessonpress.manuscript.site.timezones import time_zone
from lessonpress.manuscript.yaml.nodes import Mapping
from lessonpress.records import Location, MomentName, Units


def _language(text: str) -> str:
    if not re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", text):
        raise InvalidValueError(
            f"`{text}` is not a language tag", "write `en`, `en-GB` or `de`, as BCP 47 has them"
        )
    return text


Language = Annotated[Text, AfterValidator(_language)]
TimeZone = Annotated[Text, AfterValidator(time_zone)]
SiteAddress = Annotated[Text, AfterValidator(site_address)]
MailAddress = Annotated[Text, AfterValidator(mail_address)]
Searched = Literal["listed", "all", "none"]  # what readers can search
WayOut = Annotated[Text, AfterValidator(way_out_of_list)]


class Implement(Written):
    """The words for the implement in drafted sentences."""

    name: Text = "club"
    head: Text = "clubhead"


class NamedRange(Written):
    """A range that lessons name, with where it comes from."""

    range: ExpectationText = Field(examples=["25..35 deg away"])
    source: Text = Field(examples=["common practice"])


class Mail(Written):
    """What letters say of themselves. footer: Markdown, such as a postal address."""

    sender: MailAddress | None = Field(
        default=None, alias="from", examples=["Saltmarsh Studio <letters@example.org>"]
    )
    reply_to: MailAddress | None = Field(default=None, examples=["lessons@example.org"])
    footer: str = ""
    unsubscribe: WayOut | None = Field(default=None, examples=["https://example.org/leave"])


class SiteFile(Written):
    """`site.yaml`. sets: lists of overlays, each a mapping that overlays/ reads. cache_limit: bytes.

    events: what the site calls the moments that are found in a film.
    suggested: whether a number may rest on marks that were suggested and accepted as they were.
    """

    title: Text = Field(examples=["Saltmarsh Swing Notes"])
    author: Text | None = None
    url: SiteAddress | None = None
    language: Language = "en"
    timezone: TimeZone = "UTC"
    units: Units = "in"
    theme: Name = "plate-book"
    implement: Implement = Field(default_factory=Implement)
    ranges: dict[Name, NamedRange] = Field(default_factory=dict)
    sets: dict[Name, tuple[MappingNode, ...]] = Field(default_factory=dict)
    events: dict[EventName, MomentName] = Field(default_factory=dict)
    mail: Mail = Field(default_factory=Mail)
    suggested: Literal["yes", "no"] = "yes"
    cache_limit: SizeText = 5e9
    search: Searched = "listed"


@dataclass(frozen=True)
class Site:
    """Everything an author wrote. lessons: by date, then by name. glossary: term → meaning (Markdown).

    files: those that texts link to, paths from its folder. root_files: those of `root/`, paths from there.
    """

    root: Path
    file: SiteFile
    glossary: dict[str, str] = field(default_factory=dict)
    clips: dict[str, Clip] = field(default_factory=dict)
    lessons: tuple[Lesson, ...] = ()
    pages: dict[str, Page] = field(default_factory=dict)
    read_on: date | None = None
    files: tuple[str, ...] = ()
    root_files: tuple[str, ...] = ()
    drafts: bool = False

    @property
    def title(self) -> str:
        return self.file.title

    @property
    def author(self) -> str | None:
        return self.file.author

    @property
    def url(self) -> str | None:
        return self.file.url

    @property
    def language(self) -> str:
        return self.file.language

    @property
    def timezone(self) -> str:
        return self.file.timezone

    @property
    def units(self) -> Units:
        return self.file.units

    @property
    def theme(self) -> str:
        return self.file.theme

    @property
    def implement(self) -> Implement:
        return self.file.implement

    @property
    def ranges(self) -> dict[str, NamedRange]:
        return self.file.ranges

    @property
    def sets(self) -> dict[str, tuple[Mapping, ...]]:
        return self.file.sets

    @property
    def events(self) -> dict[str, MomentName]:
        return dict(self.file.events)

    @property
    def mail(self) -> Mail:
        return self.file.mail

    @property
    def search(self) -> Searched:
        return self.file.search

    @property
    def suggested(self) -> bool:
        return self.file.suggested == "yes"

    def lost(self, *path: str) -> bool:
        """Whether a mistake in site.yaml left out the value at a path of keys."""
        return self.file.lost(*path)

    def location_of(self, *loc: str | int) -> Location:
        """A location in site.yaml."""
        return self.file.location_of(*loc)

    @property
    def pressed(self) -> tuple[Lesson, ...]:
        """The lessons that get a page."""
        return tuple(lesson for lesson in self.lessons if self.drafts or not lesson.withheld)

    def lesson(self, name: str) -> Lesson | None:
        return next((lesson for lesson in self.lessons if lesson.name == name), None)

    def expectation(self, name: str) -> Expectation | None:
        """The range of a name, None where site.yaml has no such name."""
        named = self.ranges.get(name)
        return named.range if named else None
