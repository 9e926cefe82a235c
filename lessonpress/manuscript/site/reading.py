"""Reads a whole site in one run; every mistake in every file is reported."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from collections.abc import Mapping as MappingOf
from datetime import UTC, date, datetime
from functools import partial
from pathlib import Path
from typing import TypeVar

from lessonpress.manuscript.clip.cardchecks import CardContext, check_card
from lessonpress.manuscript.clip.cardreading import CardRead, faults_of, read_card, unanswered
from lessonpress.manuscript.clip.clip import CARD, MARK_FILES, Clip
from lessonpress.manuscript.clip.markchecks import MarkNames, check_marks, check_none_suggested
from lessonpress.manuscript.clip.marks import Marks, read_marks
from lessonpress.manuscript.clip.tracks import read_tracks, with_origins
from lessonpress.manuscript.fields.names import FILE_NAME, plain_name
from lessonpress.manuscript.fields.written import read_fields
from lessonpress.manuscript.lesson.filelinks import check_files
from lessonpress.manuscript.lesson.lesson import Lesson, read_lesson
from lessonpress.manuscript.lesson.lessonchecks import check_lessons
from lessonpress.manuscript.lesson.page import Page, read_page
from lessonpress.manuscript.lesson.sourcelinks import check_links
from lessonpress.manuscript.lesson.uses import Use, in_use, showing
from lessonpress.manuscript.rights.checks import rights_ended
from lessonpress.manuscript.site.rootfiles import check_root_files, root_files
from lessonpress.manuscript.site.site import Site, SiteFile
from lessonpress.manuscript.site.withdrawn import Withdrawn, links_kept, read_withdrawn
from lessonpress.manuscript.text.files import (
    entries,
    fault_of_file,
    is_folder,
    printable,
    read_text,
    relative,
)
from lessonpress.manuscript.text.memory import Memory
from lessonpress.manuscript.text.passage import Passage
from lessonpress.manuscript.yaml.nodes import Mapping, Node, Scalar, compose_yaml
from lessonpress.records import Location, Problems, day_in

T = TypeVar("T")
TEXT_FOLDERS = ("lessons", "pages")
READERS = dict(zip(MARK_FILES, (read_marks, read_tracks), strict=True))


def read_site(
    root: Path, *, today: date | None = None, memory: Memory | None = None, drafts: bool = False
) -> tuple[Site | None, Problems]:
    """Everything an author wrote under `root`, and all that is wrong with it.

    The site is None only where site.yaml makes none. today: the day that consents, licences and the dates of
    lessons are held against; the present one in the site's time zone unless given.
    memory: of the times it was read before, so that only files that changed are read.
    drafts: whether drafts, and lessons whose day is to come, get pages and are checked as others are.
    A clip, lesson or page whose file makes none is left out of the site; its mistakes are among the problems.
    """
    memory, problems = memory or Memory(), Problems()
    top = {path.name for path in entries(root, root, problems)}
    file = read_site_file(root, top, problems)
    today = today or day_in(file.timezone if file else "UTC", datetime.now(UTC))
    glossary = read_glossary(root, top, problems)
    read = _texts(root, "lessons", read_lesson, memory, problems)
    lessons = {name: lesson.on(today) for name, lesson in read.items()}
    shown = [lesson for lesson in lessons.values() if drafts or not lesson.withheld]
    allowed = file is None or file.suggested == "yes"
    clips = _clips(root, shown, today, allowed, memory, problems)
    pages = _texts(root, "pages", read_page, memory, problems)
    check_lessons(lessons.values(), clips, today, problems)
    withdrawn = read_withdrawn(root, top, problems)
    _check_links(root, shown, lessons, pages, withdrawn, problems)
    texts: list[Lesson | Page] = [*shown, *pages.values()]
    files = check_files(root, (link for text in texts for link in text.files), problems)
    beside = check_root_files(root, root_files(root), lessons.values(), problems)
    if file is None:
        return None, problems
    ordered = tuple(sorted(lessons.values(), key=_order))
    return Site(root, file, glossary, clips, ordered, pages, today, files, beside, drafts), problems


def _check_links(
    root: Path,
    shown: Collection[Lesson],
    lessons: MappingOf[str, Lesson],
    pages: MappingOf[str, Page],
    withdrawn: Iterable[Withdrawn],
    problems: Problems,
) -> None:
    """Links are held against the files there are, but for links of a file that has mistakes."""
    sources, gone = sources_of(root), links_kept(withdrawn)
    links = [link for lesson in shown if not lesson.withheld for link in lesson.links]
    links += [link for page in pages.values() for link in page.links]
    check_links(links, sources, withheld(lessons.values()), gone, problems)
    of_withheld = [link for lesson in shown if lesson.withheld for link in lesson.links]
    check_links(of_withheld, sources, {}, gone, problems)


def withheld(lessons: Iterable[Lesson]) -> dict[str, tuple[str, str]]:
    """The files of lessons that no link may lead to → why, and what would be right."""
    return {one.path: _why(one) for one in lessons if one.withheld or one.private}


def _why(lesson: Lesson) -> tuple[str, str]:
    if lesson.private:
        return "which is for one person alone", "take the link out: it would give the address away"
    if lesson.draft:
        return "a draft, which gets no page", "take `draft` out of it, or the link out of here"
    until = f"which is held back until {lesson.date.isoformat()}"
    return until, "link to it from that day on, or let this wait for it"


def _order(lesson: Lesson) -> tuple[date, str]:
    return lesson.date, lesson.name


def _compose(root: Path, path: Path, problems: Problems) -> Node | None:
    passage = read_text(root, path, problems)
    return compose_yaml(passage, problems) if passage else None


def read_site_file(root: Path, top: set[str], problems: Problems) -> SiteFile | None:
    if "site.yaml" not in top:
        problems.error(Location("site.yaml"), "there is no site.yaml", "write one that holds `title: …`")
        return None
    return read_fields(SiteFile, _compose(root, root / "site.yaml", problems), problems)


def read_glossary(root: Path, top: set[str], problems: Problems) -> dict[str, str]:
    node = _compose(root, root / "glossary.yaml", problems) if "glossary.yaml" in top else None
    if isinstance(node, Mapping):
        return dict(_meanings(node, problems))
    if node is not None and not (isinstance(node, Scalar) and node.value is None):
        problems.error(node.location, "the glossary is written as `term: meaning` lines")
    return {}


def _meanings(node: Mapping, problems: Problems) -> Iterable[tuple[str, str]]:
    for term, meaning in node.entries:
        if isinstance(meaning, Scalar) and meaning.value is not None:
            yield term.written, meaning.written
        else:
            problems.error(
                term.location,
                f"`{term.written}` has no meaning in words",
                "write it after the colon, in quotes",
            )


def _clips(
    root: Path, lessons: Collection[Lesson], today: date, suggested: bool, memory: Memory, problems: Problems
) -> dict[str, Clip]:
    used = in_use(lessons)

    def use(name: str) -> Use:
        return Use(name in used, partial(showing, name, lessons))

    return {
        path.name: read_clip(root, path, use(path.name), today, suggested, memory, problems)
        for path in clip_folders(root, problems)
    }


def clip_folders(root: Path, problems: Problems) -> list[Path]:
    """The folders of clips with good names; what else lies there is reported."""
    folders = []
    for path in entries(root, root / "clips", problems):
        if is_folder(path):
            folders.append(path)
        else:
            problems.warn(
                Location(relative(root, path)), "this file is not read", "each clip has a folder under clips"
            )
    return _well_named(root, folders, problems)


def read_clip(
    root: Path, folder: Path, use: Use, today: date, suggested: bool, memory: Memory, problems: Problems
) -> Clip:
    """One clip from the files of its folder. use: by lessons; of a clip that none shows the card may wait.

    suggested: whether the site allows marks that were suggested.
    """
    names = [printable(path.name) for path in entries(root, folder, problems)]
    path = relative(root, folder / CARD)
    written = CardRead(None)
    within = Problems()
    if CARD in names:
        passage = read_text(root, folder / CARD, within)
        written = memory.read(passage, read_card, within) if passage else written
    else:
        within.error(Location(path), "this clip has no card", "write clip.yaml beside its video")
    texts = {name: read_text(root, folder / name, within) for name in READERS if name in names}
    hand, tracked = (
        memory.read(text, reader, within) if (text := texts.get(name)) else Marks()
        for name, reader in READERS.items()
    )

    card = written.readable
    lessons = use.lessons() if card and rights_ended(card, today) else ()
    named = written.readable.video if written.readable and written.readable.video in names else None
    video_fault = fault_of_file(root, folder / named) if named else None

    def made(reported: Problems) -> Clip:
        all_of_clip = Problems(list(within.collected))
        misspelt = written.readable.lost_keys if written.readable else frozenset()
        faults = faults_of(written.node, all_of_clip.errors, path) | misspelt
        if card:
            check_card(
                CardContext(card, names, video_fault, today, folder.name, lessons), faults, all_of_clip
            )
        check_marks(written.readable, MarkNames(path, hand, tracked, faults, use.shown), all_of_clip)
        if not suggested:
            check_none_suggested(hand, all_of_clip)
        reported.extend((all_of_clip if use.shown else unanswered(written.node, all_of_clip)).collected)
        observations = (*hand.observations, *with_origins(tracked, hand))
        locations = tracked.locations | hand.locations
        faults = faults_of(written.node, all_of_clip.errors, path) | misspelt
        return Clip(
            folder.name, folder, path, written.card, observations, locations, faults, written.readable
        )

    made_from = (
        folder,
        written,
        hand,
        tracked,
        names,
        tuple(within.collected),
        use.shown,
        suggested,
        lessons,
        video_fault,
        today,
    )
    return memory.keep(f"{folder}/", made_from, made, problems)


def _texts(
    root: Path,
    folder: str,
    reader: Callable[[str, Passage, Problems], T | None],
    memory: Memory,
    problems: Problems,
) -> dict[str, T]:
    """What the Markdown files of a folder make, by name."""
    made = {}
    for path in text_files(root, folder, problems):
        passage = read_text(root, path, problems)
        text = memory.read(passage, partial(reader, path.stem), problems) if passage else None
        if text is not None:
            made[path.stem] = text
    return made


def text_files(root: Path, folder: str, problems: Problems) -> list[Path]:
    """The Markdown files of a folder with good names; what else lies there is reported."""
    return _well_named(root, _markdown(root, folder, problems), problems)


def sources_of(root: Path) -> frozenset[str]:
    """Every Markdown file that a link may lead to, well named or not: paths from the site's folder."""
    return frozenset(
        relative(root, path) for folder in TEXT_FOLDERS for path in _markdown(root, folder, Problems())
    )


def _markdown(root: Path, folder: str, problems: Problems) -> list[Path]:
    paths = []
    for path in entries(root, root / folder, problems):
        if path.suffix == ".md" and not is_folder(path):
            paths.append(path)
        elif is_folder(path) or path.suffix.lower() in (".md", ".markdown", ".mkd", ".txt"):
            right = f"{folder} are files {folder}/NAME.md"
            problems.warn(Location(relative(root, path)), "this is not read", right)
    return paths


def _well_named(root: Path, paths: list[Path], problems: Problems) -> list[Path]:
    """Those whose names can be in an address and differ by more than capital letters; others are reported."""
    seen: dict[str, str] = {}
    good = []
    for path in paths:
        name = path.stem if path.suffix == ".md" else path.name
        location = Location(relative(root, path))
        if not FILE_NAME.fullmatch(name):
            near = plain_name(name)
            problems.error(
                location,
                f"`{printable(name)}` cannot be part of a web address as it is",
                "name it with letters a to z, digits and hyphens",
                nearest=(near + path.suffix * (path.suffix == ".md"),) if near else (),
            )
        elif name.lower() in seen:
            wrong = f"`{name}` and `{seen[name.lower()]}` differ by capital letters only"
            problems.error(location, wrong, "rename one: many machines take them for the same")
        else:
            seen[name.lower()] = name
            good.append(path)
    return good
