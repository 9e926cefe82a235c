"""A plain page: a title and Markdown, without figures."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import Field

from lessonpress.manuscript.fields.fieldtypes import Meant, Text
from lessonpress.manuscript.fields.written import Written
from lessonpress.manuscript.lesson.crowded import is_crowded
from lessonpress.manuscript.lesson.fences import fence_location
from lessonpress.manuscript.lesson.filelinks import FileLink, check_pictures, files_in
from lessonpress.manuscript.lesson.frontmatter import read_front
from lessonpress.manuscript.lesson.kinds import KINDS
from lessonpress.manuscript.lesson.prose import parse, references_in
from lessonpress.manuscript.lesson.rawhtml import html_in
from lessonpress.manuscript.lesson.sourcelinks import SourceLink, links_in
from lessonpress.manuscript.text.passage import Passage
from lessonpress.records import Location, Problems


class PageFront(Written):
    title: Text = Field(examples=["About"])
    summary: str = ""
    meant: Meant = Field(default_factory=dict)


@dataclass(frozen=True)
class Page:
    """A plain page as written. path: relative to the site. body_line: the file's line where body begins.

    links: those to lessons and other pages. files: those to files and pictures.
    """

    name: str
    path: str
    front: PageFront
    body: str
    body_line: int
    links: tuple[SourceLink, ...] = ()
    files: tuple[FileLink, ...] = ()

    @property
    def title(self) -> str:
        return self.front.title

    @property
    def summary(self) -> str:
        return self.front.summary

    @property
    def meant(self) -> Meant:
        """The findings of the last look that the author answers, each with the reason."""
        return self.front.meant

    def location_of(self, *loc: str | int) -> Location:
        return self.front.location_of(*loc)


def read_page(name: str, passage: Passage, problems: Problems) -> Page | None:
    """A page from its text; None where its front matter makes none. Its body is checked in any case."""
    front, start = read_front(PageFront, passage, problems, "a page")
    body = passage.part(start, len(passage.rows))
    if is_crowded(body, problems):
        return None
    tokens = parse(body)
    for reference in references_in(body, tokens, problems):
        right = "print it in a lesson, or write `\\{` for a brace"
        problems.error(reference.location, f"`{reference.text}` is in a page, which has no measures", right)
    for token in tokens:
        if token.type == "fence" and token.info.strip() in KINDS:
            location = fence_location(body, token)
            problems.warn(
                location, f"a {token.info.strip()} in a page is shown as code", "figures belong in lessons"
            )
    html_in(body, tokens, problems)
    check_pictures(body, tokens, problems)
    if front is None:
        return None
    links, files = tuple(links_in(body, tokens)), tuple(files_in(body, tokens))
    return Page(name, passage.path, front, body.text, start + 1, links, files)
