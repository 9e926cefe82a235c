"""Steps that read what the author wrote in words: site.yaml, the glossary, lessons, pages and their links."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from posixpath import basename, dirname

from lessonpress.footage import is_still
from lessonpress.manuscript import (
    ICONS,
    ROOT_FOLDER,
    TEXT_FOLDERS,
    WITHDRAWN,
    FileLink,
    Lesson,
    Page,
    SiteFile,
    Withdrawn,
    check_files,
    check_lessons,
    check_links,
    check_root_files,
    clip_folders,
    clips_named,
    links_kept,
    read_glossary,
    read_lesson,
    read_page,
    read_site_file,
    read_text,
    read_withdrawn,
    root_files,
    sources_of,
    still_card_of,
    text_files,
    withheld,
)
from lessonpress.press.notes import Notes
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import Parts, Values


@dataclass(frozen=True)
class Head:
    """What other steps may know of a lesson. lesson: without its body, blocks and links.

    stills: the author's own pictures that it shows.
    """

    lesson: Lesson
    clips: frozenset[str]
    stills: frozenset[str]


def site_file(reader: Reader, _: str) -> SiteFile | None:
    top = {name for name in ("site.yaml",) if reader.there(name)}
    return read_site_file(reader.root, top, reader.problems)


def glossary(reader: Reader, _: str) -> dict[str, str]:
    top = {name for name in ("glossary.yaml",) if reader.there(name)}
    return read_glossary(reader.root, top, reader.problems)


def names(reader: Reader, folder: str) -> tuple[str, ...]:
    """The names of the lessons, the pages or the clips, by their folder."""
    reader.lists(folder)
    if folder == "clips":
        return tuple(path.name for path in clip_folders(reader.root, reader.problems))
    return tuple(path.stem for path in text_files(reader.root, folder, reader.problems))


def named(reader: Reader, folder: str) -> frozenset[str]:
    """The same, to ask whether a name is among them."""
    return frozenset(reader.value("names", folder))


def lesson(reader: Reader, name: str) -> Lesson | None:
    passage = read_text(reader.root, reader.uses(f"lessons/{name}.md"), reader.problems)
    read = read_lesson(name, passage, reader.problems) if passage else None
    return None if read is None else read.on(reader.today)


def text(reader: Reader, name: str) -> Page | None:
    passage = read_text(reader.root, reader.uses(f"pages/{name}.md"), reader.problems)
    return read_page(name, passage, reader.problems) if passage else None


def head(reader: Reader, name: str) -> Head | None:
    lesson: Lesson | None = reader.value("lesson", name)
    if lesson is None:
        return None
    bare = replace(lesson, body="", body_line=0, blocks=(), references=(), links=(), files=())
    return Head(bare, clips_named(lesson), _stills_in(lesson))


def _stills_in(text: Lesson | Page) -> frozenset[str]:
    return frozenset(link.target for link in text.files if is_still(link.target))


def heads(reader: Reader, _: str) -> dict[str, Lesson]:
    """The heads of all lessons that make one, in the order of their files."""
    every = {name: reader.value("head", name) for name in reader.value("names", "lessons")}
    return {name: one.lesson for name, one in every.items() if one is not None}


def page_head(reader: Reader, name: str) -> Page | None:
    """What other steps may know of a page: its title."""
    page: Page | None = reader.value("text", name)
    return None if page is None else replace(page, body="", body_line=0, links=(), files=())


def page_heads(reader: Reader, _: str) -> dict[str, Page]:
    """The heads of all pages that make one, in the order of their files."""
    every = {name: reader.value("page head", name) for name in reader.value("names", "pages")}
    return {name: one for name, one in every.items() if one is not None}


def pressed(reader: Reader, _: str) -> tuple[str, ...]:
    """The lessons that get a page, newest first."""
    drafts = reader.option("drafts")
    shown = [one for one in reader.value("heads").values() if drafts or not one.withheld]
    return tuple(one.name for one in sorted(shown, key=_age, reverse=True))


def mentions(reader: Reader, _: str) -> Notes:
    """What a press says of lessons: the drafts that are shown, those to come, those for one person."""
    heads = reader.value("heads")
    shown = [(heads[name], f"lessons/{heads[name].folder}/index.html") for name in reader.value("pressed")]
    to_come = sorted((one.date, one.path) for one in heads.values() if one.held and not one.draft)
    return Notes(
        drafts=tuple(path for one, path in shown if one.draft),
        held=tuple((path, day.isoformat()) for day, path in to_come),
        private=tuple((one.path, path) for one, path in shown if one.private),
    )


def _age(one: Lesson) -> tuple[date, str]:
    return one.date, one.name


def clips_in_use(reader: Reader, _: str) -> frozenset[str]:
    """The clips that lessons with a page show, as far as there are such clips."""
    wanted: set[str] = set()
    for name in reader.value("pressed"):
        wanted |= reader.value("head", name, "clips")
    return frozenset(wanted & reader.value("named", "clips"))


def clips_showing(reader: Reader, _: str) -> dict[str, tuple[str, ...]]:
    """By clip the files of the lessons with a page that show it."""
    clips = {name: reader.value("head", name, "clips") for name in sorted(reader.value("pressed"))}
    every = sorted(set().union(*clips.values()))
    return {clip: tuple(f"lessons/{name}.md" for name in clips if clip in clips[name]) for clip in every}


def texts_picturing(reader: Reader, _: str) -> dict[str, tuple[str, ...]]:
    """By own picture the files of the lessons with a page and of the pages that show it."""
    shown = {f"lessons/{name}.md": reader.value("head", name, "stills") for name in reader.value("pressed")}
    for name in reader.value("page heads"):
        shown[f"pages/{name}.md"] = _stills_in(reader.value("text", name))
    every = sorted(set().union(*shown.values()))
    return {still: tuple(path for path in sorted(shown) if still in shown[path]) for still in every}


def among_lessons(reader: Reader, _: str) -> None:
    """What lessons say of each other."""
    clips = dict.fromkeys(reader.value("names", "clips"))
    lessons = reader.value("heads").values()
    check_lessons(lessons, clips, reader.today, reader.problems)  # type: ignore[arg-type]


def sources(reader: Reader, _: str) -> frozenset[str]:
    """The Markdown files that links may lead to."""
    for folder in TEXT_FOLDERS:
        reader.lists(folder)
    return sources_of(reader.root)


def withdrawn(reader: Reader, _: str) -> tuple[Withdrawn, ...]:
    """The lessons that were withdrawn."""
    top = {name for name in (WITHDRAWN,) if reader.there(name)}
    return read_withdrawn(reader.root, top, reader.problems)


def withdrawn_notes(reader: Reader, _: str) -> dict[str, str]:
    """By the file that a withdrawn lesson had, where the note in its place is."""
    return links_kept(reader.value("withdrawn"))


def files_withheld(reader: Reader, _: str) -> dict[str, tuple[str, str]]:
    """The files of lessons that no link may lead to, and why."""
    return withheld(reader.value("heads").values())


def linked_files(reader: Reader, path: str) -> tuple[str, ...]:
    """The files that a lesson or a page links to and that come along; its wrong links are reported."""
    text = _text(reader, path)
    if text is None:
        return ()
    itself = isinstance(text, Lesson) and text.withheld
    others = {} if itself else Values(reader, "withheld")
    check_links(
        text.links, Parts(reader, "sources"), others, Parts(reader, "withdrawn notes"), reader.problems
    )
    for link in text.files:
        if not link.target.startswith("../") and not reader.there(link.target):
            reader.lists(dirname(link.target))
    return check_files(reader.root, text.files, reader.problems)


def links(reader: Reader, path: str) -> tuple[str, ...]:
    """The same files; pictures among them that cannot be published are reported."""
    good: tuple[str, ...] = reader.value("linked files", path)
    text = _text(reader, path) if any(map(is_still, good)) else None
    if text is not None:
        _check_stills(reader, [link for link in text.files if link.target in good])
    return good


def _text(reader: Reader, path: str) -> Lesson | Page | None:
    """What lies at a path of a lesson or a page."""
    folder, _, file = path.partition("/")
    text: Lesson | Page | None = reader.value("lesson" if folder == "lessons" else "text", file[:-3])
    return text


def _check_stills(reader: Reader, links: Iterable[FileLink]) -> None:
    """Reports pictures that cannot be published, at the line that shows them."""
    for link in links:
        if not is_still(link.target):
            continue
        name = basename(link.target)
        if not reader.there(still_card_of(link.target)):
            wrong = f"nothing says whose picture `{name}` is and who can be recognised on it"
            card = still_card_of(name)
            right = f"write {card} beside it with `source: {{kind: own}}` and `people: []`"
            reader.problems.error(link.location, wrong, right, cause=f"no card {link.target}")
        elif (fault := reader.value("still", link.target, "fault")) is not None:
            reader.problems.error(link.location, f"`{name}` cannot be shown: {fault[0]}", fault[1])


def attached(reader: Reader, _: str) -> tuple[str, ...]:
    """All files that come along. Those of two texts may differ by capital letters only, which is reported."""
    linking = [f"lessons/{name}.md" for name in reader.value("pressed")]
    linking += [f"pages/{name}.md" for name in reader.value("page heads")]
    targets = {target for path in linking for target in reader.value("links", path)}
    if len({target.lower() for target in targets}) < len(targets):
        texts = [reader.value("lesson", name) for name in reader.value("names", "lessons")]
        texts += [reader.value("text", name) for name in reader.value("names", "pages")]
        shown = [one for one in texts if one is not None and one.path in linking]
        return check_files(reader.root, (link for one in shown for link in one.files), reader.problems)
    return tuple(sorted(targets))


def at_root(reader: Reader, _: str) -> tuple[str, ...]:
    """The files of `root/` that are put out."""
    reader.lists_all(ROOT_FOLDER)
    paths = root_files(reader.root)
    for path in paths:
        reader.there(f"{ROOT_FOLDER}/{path}")
    return check_root_files(reader.root, paths, reader.value("heads").values(), reader.problems)


def icon(reader: Reader, _: str) -> str:
    """The site's own icon, "" where it has none: the first of the names that icons go by."""
    return next((name for name in ICONS if name in reader.value("root files")), "")


def pages_by_source(reader: Reader, _: str) -> dict[str, str]:
    """Every file that a link may name → where it is in the pressed site."""
    from lessonpress.pages import attached_path, lesson_path, page_path

    pages = dict(reader.value("withdrawn notes"))
    pages |= {
        f"lessons/{name}.md": lesson_path(reader.value("head", name, "lesson").folder)
        for name in reader.value("pressed")
    }
    pages |= {f"pages/{name}.md": page_path(name) for name in reader.value("page heads")}
    return pages | {path: attached_path(path) for path in reader.value("attached")}


def pressed_names(reader: Reader, _: str) -> frozenset[str]:
    """The lessons that get a page, to ask whether one is among them."""
    return frozenset(reader.value("pressed"))
