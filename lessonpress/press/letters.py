"""Writes lessons as letters into `build/mail`, from the same products as the site. Nothing is ever sent.

| file | what |
|---|---|
| `letter.eml` | the draft for a mail program |
| `letter.html` | the letter for the paste box of a newsletter service |
| `letter.txt` | its plain text |
| `preview.html` | the letter to be looked at here, before the site is uploaded |
| `pictures/` | its pictures, and those that are attached |
"""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from lessonpress.disk import write_atomically
from lessonpress.footage import is_still
from lessonpress.manuscript import Lesson
from lessonpress.outlets import (
    Letter,
    Source,
    article_of,
    attached,
    beside,
    hosted,
    letter_of,
    message,
)
from lessonpress.press.progress import Progress
from lessonpress.press.ready import made_ready, opened
from lessonpress.press.steps.inputs import PressOptions
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import SeenSite
from lessonpress.press.steps.themes import SeenContext
from lessonpress.press.steps.works import Works
from lessonpress.records import Problems, UsageError

MAIL_FOLDER = Path("build", "mail")  # of the site


@dataclass(frozen=True)
class MailOptions:
    """What is asked of letters. unlisted: whether lessons that no list has may be sent."""

    digest: bool = False
    excerpt: bool = False
    attach: bool = False
    unlisted: bool = False


@dataclass(frozen=True)
class Mailed:
    """folders: of the letters written; none where errors stopped them."""

    problems: Problems
    folders: tuple[Path, ...] = ()


def write_letters(
    root: Path, names: Iterable[str], options: MailOptions, progress: Progress, *, own_themes: bool = False
) -> Mailed:
    """The letters of these lessons, one each or one digest; errors of what they are made of stop all of them.

    Raises UsageError for a lesson that is not there or not for sending, for a letter that mail programs would
    cut off, and for a site without an address whose pictures are not to be attached.
    """
    with opened(root, PressOptions(own_themes=own_themes)) as works:
        ready = made_ready(works, names, progress)
        if not ready.names:
            return Mailed(ready.problems)
        _check_sendable(works, ready.names, options)
        room = _Room(works, options)
        groups = [ready.names] if options.digest else [(name,) for name in ready.names]
        made = [(group, room.letters(group)) for group in groups]
        return Mailed(ready.problems, tuple(room.write(group, letters) for group, letters in made))


def _check_sendable(works: Works, lessons: Iterable[str], options: MailOptions) -> None:
    heads: Mapping[str, Lesson] = works.value(("heads", "", ""))
    for name in lessons:
        if heads[name].draft:
            raise UsageError(f"{name} is a draft; take `draft` from its front matter before it is sent")
        if heads[name].held:
            day = heads[name].date.isoformat()
            raise UsageError(f"{name} is held back until its day, {day}; send it when it has been pressed")
        if not heads[name].listed and not options.unlisted:
            raise UsageError(
                f"{name} is not listed: it is for those who are given its address; "
                "give --unlisted to make a letter of it all the same"
            )
    if not works.value(("site.yaml", "", "url")) and not options.attach:
        raise UsageError(
            "the site has no `url`, so that a letter cannot ask for its pictures; "
            "write `url` in site.yaml, or give --attach"
        )


@dataclass(frozen=True)
class _Letters:
    """One letter with its pictures where the paste box finds them, where the draft does, and beside it.

    pictures: those beside it. attached: those within the draft.
    """

    pasted: Letter
    drafted: Letter
    previewed: Letter
    pictures: Mapping[str, bytes]
    attached: Mapping[str, bytes]
    on: date


@dataclass(frozen=True)
class _Room:
    """Where letters are made."""

    works: Works
    options: MailOptions

    @property
    def site(self) -> SeenSite:
        return SeenSite(Reader(self.works))

    def letters(self, names: tuple[str, ...]) -> _Letters:
        site = self.site
        previewed = self._letter(names, beside)
        pasted = self._letter(names, hosted(site)) if site.url else previewed
        drafted = self._letter(names, attached(site)) if self.options.attach else pasted
        pictures = self._pictures(names, previewed.pictures)
        heads = [self.works.value(("head", name, "lesson")) for name in names]
        on = max(one.updated or one.date for one in heads)
        return _Letters(pasted, drafted, previewed, pictures, pictures if self.options.attach else {}, on)

    def _letter(self, names: tuple[str, ...], source: Source) -> Letter:
        excerpt = self.options.excerpt or self.options.digest
        context = SeenContext(Reader(self.works))
        bound = [self.works.value(("bound", name, "")) for name in names]
        articles = [article_of(one, context, source, excerpt=excerpt) for one in bound]
        letter = letter_of(articles, context, digest=self.options.digest, excerpt=excerpt)
        if letter.too_long:
            size = len(letter.html.encode()) // 1000
            raise UsageError(
                f"the letter of {', '.join(names)} would have {size} kB of HTML, "
                "and mail programs cut off what is over 100 kB; "
                + ("name fewer lessons" if self.options.digest else "give --excerpt")
            )
        return letter

    def _pictures(self, names: tuple[str, ...], paths: tuple[str, ...]) -> dict[str, bytes]:
        links = [path for name in names for path in self.works.value(("links", f"lessons/{name}.md", ""))]
        keys = [("letter pictures", name, "") for name in names]
        keys += [("still", path, "") for path in links if is_still(path)]
        put = {one.path: (key, one) for key in keys for one in self.works.docket(key).puts}
        return {path: self.works.content(*put[path]) for path in paths}

    def write(self, names: tuple[str, ...], letters: _Letters) -> Path:
        """Puts a letter in its folder; pictures of an earlier one are cleared away."""
        called = f"digest-{letters.on.isoformat()}" if self.options.digest else names[0]
        folder = self.works.root / MAIL_FOLDER / called
        shutil.rmtree(folder, ignore_errors=True)
        files = {
            "letter.html": letters.pasted.html.encode(),
            "letter.txt": letters.drafted.text.encode(),
            "letter.eml": message(letters.drafted, self.site, letters.on, letters.attached),
            "preview.html": letters.previewed.html.encode(),
            **{beside(path): content for path, content in letters.pictures.items()},
        }
        for name, content in files.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            write_atomically(path, content)
        return folder
