"""A site with the text of one lesson instead of what its file holds, while it is being written."""

from __future__ import annotations

from dataclasses import replace

from lessonpress.manuscript.lesson.filelinks import check_files
from lessonpress.manuscript.lesson.lesson import read_lesson
from lessonpress.manuscript.lesson.lessonchecks import check_lessons
from lessonpress.manuscript.lesson.sourcelinks import check_links
from lessonpress.manuscript.site.reading import sources_of, withheld
from lessonpress.manuscript.site.site import Site
from lessonpress.manuscript.site.withdrawn import WITHDRAWN, links_kept, read_withdrawn
from lessonpress.manuscript.text.files import decode_text
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.records import Problems


def with_text(site: Site, name: str, text: str, problems: Problems) -> Site | None:
    """The site as it would be read with `text` in lessons/NAME.md; what is wrong with the text is reported.

    None where its front matter makes no lesson. Nothing is written.
    """
    path, own = f"lessons/{name}.md", Problems()
    decoded = decode_text(path, text.encode(), own)
    read = None if decoded is None else read_lesson(name, file_passage(path, decoded), own)
    if read is None:
        problems.extend(own.collected)
        return None
    today = site.read_on or read.date
    lesson = read.on(today)
    lessons = (*(one for one in site.lessons if one.name != name), lesson)
    across = Problems()
    check_lessons(lessons, site.clips, today, across)
    gone = links_kept(read_withdrawn(site.root, {WITHDRAWN}, Problems()))
    unreachable = {} if lesson.withheld else withheld(lessons)
    check_links(lesson.links, sources_of(site.root), unreachable, gone, across)
    check_files(site.root, lesson.files, across)
    own.extend(one for one in across.collected if one.location.path == path)
    problems.extend(own.collected)
    return replace(site, lessons=tuple(sorted(lessons, key=lambda one: (one.date, one.name))))
