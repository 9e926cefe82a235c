"""A clip renamed: its folder, and every lesson and card that names it.

All texts are made before one is written, and the folder goes last, in one step: a renaming that was stopped
anywhere is gone on with by asking for it again.
"""

from __future__ import annotations

from pathlib import Path

from lessonpress.desk.files.mentions import clip_mentions, renamed
from lessonpress.desk.files.versions import bytes_of, encoded_like
from lessonpress.desk.files.yamltext import UneditableError, edited
from lessonpress.desk.http.responses import RequestError
from lessonpress.disk import folder_to_disk, write_atomically
from lessonpress.manuscript import Clip, Lesson, Site, text_files
from lessonpress.press import keep_save
from lessonpress.records import Problems


def rename_clip(site: Site, old: Path, new: Path) -> list[str]:
    """Gives a clip's folder another name; the paths of the texts and cards that named it, and follow.

    Raises RequestError where the name is taken, or where something that names it cannot be read or changed.
    """
    if any(name.lower() == new.name.lower() for name in site.clips if name != old.name) or new.exists():
        raise RequestError(409, f"there is a clip `{new.name}` already", "give another name")
    refuse_unreadable(site, old.name)
    texts = dict(_texts(site, old.name, new.name))
    for path, text in texts.items():
        file = site.root / path
        content = bytes_of(file)
        keep_save(file, content)
        write_atomically(file, encoded_like(content, text))
    old.rename(new)
    folder_to_disk(new.parent)
    return sorted(texts)


def refuse_unreadable(site: Site, name: str) -> None:
    """Raises RequestError where a lesson cannot be read that may name it."""
    read = {lesson.name for lesson in site.lessons}
    for path in text_files(site.root, "lessons", Problems()):
        if path.stem not in read and name in (bytes_of(path) or b"").decode("utf-8", "replace"):
            wrong = f"lessons/{path.name} has mistakes, and may name `{name}`"
            raise RequestError(422, wrong, "correct its front matter first")


def _texts(site: Site, old: str, new: str) -> list[tuple[str, str]]:
    """Path and new text of each lesson and card that names the clip."""
    named = [(lesson, clip_mentions(lesson, old)) for lesson in site.lessons]
    lessons = [
        (lesson.path, renamed(_text_of(site, lesson), mentions, old, new))
        for lesson, mentions in named
        if mentions
    ]
    return [*lessons, *((clip.path, _card_with(site, clip, new)) for clip in seconds_of(site, old))]


def seconds_of(site: Site, clip: str) -> list[Clip]:
    """The clips on whose cards it is the second view."""
    return [one for one in site.clips.values() if one.card is not None and one.card.second_view == clip]


def _text_of(site: Site, lesson: Lesson) -> str:
    content = bytes_of(site.root / lesson.path) or b""
    return content.decode("utf-8-sig").replace("\r\n", "\n")


def _card_with(site: Site, clip: Clip, second: str) -> str:
    content = bytes_of(site.root / clip.path) or b""
    try:
        return edited(content.decode("utf-8-sig").replace("\r\n", "\n"), ("second_view",), second)
    except UneditableError as error:
        raise RequestError(422, f"{clip.path}: {error}", "change `second_view` by hand") from error
