"""Steps of what a browser keeps: lists of lessons and of the site, its worker, its manifest and icons."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256

from lessonpress.drawing import icons_of
from lessonpress.footage import is_still
from lessonpress.outlets import LIST, MANIFEST, WORKER, File, lesson_list, manifest, site_list, worker
from lessonpress.press.steps.dockets import Put
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import SeenSite

KEEPER = "keeper"  # the theme's script that the worker runs; without it nothing is kept
ICON = "icon.svg"  # of the theme; without it the manifest has none
DRAWING = ("resvg-py", "pillow")
SHOWN = ("loops", "pictures")  # of a lesson's own files, those that its page shows
SHARED = ("style", "scripts")
SHELL = ("home", "settings", *SHARED)


def lesson_kept(reader: Reader, name: str) -> tuple[str, str]:
    """The path of a lesson's page, and SHA-256 of its list, which is put out."""
    (page,) = reader.puts_of("page", name)
    html = reader.works.content(("page", name, ""), page).decode()
    known = {one.path: one for one in _files(_shown_by(reader, name))}
    content = lesson_list(File(page.path, page.hashed, page.size), html, known)
    reader.put(f"{page.path.rpartition('/')[0]}/{LIST}", content)
    return page.path, sha256(content).hexdigest()


def _shown_by(reader: Reader, name: str) -> Iterable[Put]:
    """What a lesson's page may show."""
    for step in SHOWN:
        yield from reader.puts_of(step, name)
    for step in SHARED:
        yield from reader.puts_of(step)
    for path in reader.value("links", f"lessons/{name}.md"):
        if is_still(path):
            yield from reader.puts_of("attached file", path)


def site_kept(reader: Reader, _: str) -> None:
    scripts = reader.value("scripts")
    if KEEPER not in scripts:
        return
    shell = [one for step in SHELL for one in reader.puts_of(step)]
    lessons = dict(reader.value("lesson kept", name) for name in reader.value("pressed"))
    content = site_list(_files(shell), lessons)
    reader.put(LIST, content)
    reader.put(WORKER, worker(content, scripts[KEEPER][0]))
    reader.put(MANIFEST, manifest(SeenSite(reader), reader.value("icons")))
    reader.puts.extend(reader.puts_of("icons"))


def icons(reader: Reader, _: str) -> dict[str, tuple[int, bool]]:
    """The theme's icon in pixels, put out: path → px of a side, whether a device may cut it."""
    file = f"{reader.value('theme')}/{ICON}"
    if not reader.there(file):
        return {}
    for library in DRAWING:
        reader.library(library)
    made = {}
    for (side, cut), content in icons_of(reader.uses(file).read_text(encoding="utf-8")).items():
        path = f"assets/icon-{side}{'-cut' if cut else ''}.{sha256(content).hexdigest()[:10]}.png"
        reader.put(path, content)
        made[path] = (side, cut)
    return made


def _files(puts: Iterable[Put]) -> list[File]:
    return [File(one.path, one.hashed, one.size) for one in puts]
