"""A small site, and edits of it at random: what an author does to texts, marks, cards, clips and theme."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path
from random import Random

from PIL import Image

from lessonpress.records.theme import theme_folder
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import make_clip
from tests.studio.room import INCH
from tests.studio.swingers import DUNE

CLIP, OTHER = "dune-face-on", "dune-again"
WORDS = ("hips", "hub", "pelvis", "slowly", "weight", "grip", "arc", "stance")
TOPICS = ("pelvis", "hub", "hands", "weight")

_SITE = """\
title: Edited Notebook
url: https://notebook.example/
units: in
search: listed
theme: own
sets:
  usual:
    - vertical: navel
"""
_LESSON = """\
---
title: Lesson {number}
date: 2026-0{number}-12
summary: Of the hub.
clip: {clip}
topics: [{topic}]
---

The hub stays, see [the pages](../pages/about.md).

```frame
id: top
at: top
draw:
  - use: usual
  - tilt: [navel, c7]
    as: lean
```

The line leans {{lean}}.

All about the grip.
"""
_CHART = """\
---
title: Over the months
date: 2026-05-12
topics: [hub]
---

```progress
id: months
measure: lean
over: [one, two]
```
"""


def make(root: Path) -> None:
    """Three lessons with figures and one that charts them, two clips of one film, a page, its own theme."""
    camera = looking_at((0, 0.92, 0), (0.0, 1.05, 168 * INCH), Camera(focal=320.0, size=(320, 200)))
    make_clip(root, DUNE, camera, 10, tracked=("lead-wrist",), card={"filmed_on": "2026-01-02"})
    shutil.copytree(root / "clips" / CLIP, root / "clips" / OTHER)
    for folder in ("lessons", "pages", "papers"):
        (root / folder).mkdir()
    _write(root / "site.yaml", _SITE)
    _write(root / "glossary.yaml", "hub: Where the arc of the hands turns.\ngrip: How the hands hold.\n")
    _write(root / "pages" / "about.md", "---\ntitle: About\n---\n\nSee [one](../lessons/one.md).\n")
    for number, (name, clip) in enumerate((("one", CLIP), ("two", OTHER), ("three", CLIP)), start=1):
        text = _LESSON.format(number=number, clip=clip, topic=TOPICS[number % 2])
        _write(root / "lessons" / f"{name}.md", text)
    _write(root / "lessons" / "months.md", _CHART)
    shutil.copytree(theme_folder("plate-book"), root / "themes" / "own")


def _write(place: Path, text: str) -> None:
    place.write_text(text, encoding="utf-8")


def _change(place: Path, pattern: str, by: Callable[[re.Match[str]], str], random: Random) -> None:
    """Replaces one of the places of a file that match, chosen at random."""
    text = place.read_text(encoding="utf-8")
    found = list(re.finditer(pattern, text, re.MULTILINE))
    if found:
        chosen = random.choice(found)
        _write(place, text[: chosen.start()] + by(chosen) + text[chosen.end() :])


def _any(root: Path, pattern: str, random: Random) -> Path:
    return random.choice(sorted(root.glob(pattern)))


def prose(root: Path, random: Random) -> None:
    lesson = _any(root, "lessons/*.md", random)
    said = f"\n{' '.join(random.choices(WORDS, k=4)).capitalize()}.\n"
    _write(lesson, lesson.read_text(encoding="utf-8") + said)


def prose_above(root: Path, random: Random) -> None:
    """Every figure below is a line lower."""
    _change(
        _any(root, "lessons/*.md", random),
        r"\A(---\n(?:.*\n)*?---\n)",
        lambda at: f"{at[1]}\nFirst.\n",
        random,
    )


def title(root: Path, random: Random) -> None:
    told = f"title: {random.choice(WORDS).capitalize()} {random.randrange(99)}"
    _change(_any(root, "lessons/*.md", random), r"^title: .*$", lambda _: told, random)


def topic(root: Path, random: Random) -> None:
    told = f"topics: [{', '.join(random.sample(TOPICS, 2))}]"
    _change(_any(root, "lessons/*.md", random), r"^topics: .*$", lambda _: told, random)


def date(root: Path, random: Random) -> None:
    told = f"date: 2026-0{random.randrange(1, 9)}-{random.randrange(10, 28)}"
    _change(_any(root, "lessons/*.md", random), r"^date: .*$", lambda _: told, random)


def hidden(root: Path, random: Random) -> None:
    _turn(_any(root, "lessons/*.md", random), "listed: false")


def draft(root: Path, random: Random) -> None:
    """Links to it, and charts of it, become mistakes: these are reported in the same way."""
    _turn(_any(root, "lessons/*.md", random), "draft: true")


def _turn(lesson: Path, line: str) -> None:
    text = lesson.read_text(encoding="utf-8")
    taken = text.replace(f"{line}\n", "", 1)
    _write(lesson, taken if taken != text else text.replace("\ndate:", f"\n{line}\ndate:", 1))


def mistake(root: Path, random: Random) -> None:
    """An unknown mark, and at another time the known one again."""
    lesson = root / "lessons" / "three.md"
    if lesson.exists():
        text = lesson.read_text(encoding="utf-8")
        _write(
            lesson,
            text.replace("[navle,", "[navel,") if "navle" in text else text.replace("[navel,", "[navle,"),
        )


def mark(root: Path, random: Random) -> None:
    place = _any(root, "clips/*/marks.yaml", random)
    _change(place, r"\[(\d+\.\d+), ", lambda at: f"[{float(at[1]) + 0.5:.2f}, ", random)


def card(root: Path, random: Random) -> None:
    place = _any(root, "clips/*/clip.yaml", random)
    _change(place, r"filmed_on: .*$", lambda _: f"filmed_on: 2026-02-{random.randrange(10, 28)}", random)


def second_view(root: Path, random: Random) -> None:
    """A second view that is none, since it is filmed from the same side, and at another time no such line."""
    place = root / "clips" / CLIP / "clip.yaml"
    text, line = place.read_text(encoding="utf-8"), f"second_view: {OTHER}\n"
    _write(place, text.replace(line, "") if line in text else text + line)


def other_swing(root: Path, random: Random) -> None:
    """Another swing in the place of the second view or beside it, which is a mistake; then none again."""
    place = root / "clips" / CLIP / "clip.yaml"
    text, line = place.read_text(encoding="utf-8"), f"other_swing: [{OTHER}]\n"
    _write(place, text.replace(line, "") if line in text else text + line)


def track(root: Path, random: Random) -> None:
    place = _any(root, "clips/*/tracks.csv", random)
    _change(place, r"^(lead-wrist,\d+,)(\d+\.\d+)", lambda at: f"{at[1]}{float(at[2]) + 0.25:.2f}", random)


def glossary(root: Path, random: Random) -> None:
    place = root / "glossary.yaml"
    lines = place.read_text(encoding="utf-8").splitlines(keepends=True)
    chosen = random.choice(WORDS)
    kept = [line for line in lines if not line.startswith(f"{chosen}:")]
    _write(
        place, "".join(kept if len(kept) < len(lines) else [*lines, f"{chosen}: It is {random.random()}.\n"])
    )


def site(root: Path, random: Random) -> None:
    told = random.choice(
        ("units: in", "units: cm", "title: Called otherwise", "search: all", "search: none", "search: listed")
    )
    _change(root / "site.yaml", f"^{told.partition(':')[0]}: .*$", lambda _: told, random)


def style(root: Path, random: Random) -> None:
    place = _any(root, "themes/own/styles/*.css", random)
    _write(place, place.read_text(encoding="utf-8") + f"\n.edit-{random.randrange(99)} {{ margin: 0 }}\n")


def template(root: Path, random: Random) -> None:
    place = _any(root, "themes/own/templates/**/*.html", random)
    _write(place, place.read_text(encoding="utf-8") + f"<!-- {random.randrange(99)} -->\n")


def words(root: Path, random: Random) -> None:
    told = f"  word: Plate{random.randrange(9)}"
    _change(root / "themes" / "own" / "words" / "en.yaml", r"^  word: .*$", lambda _: told, random)


def page(root: Path, random: Random) -> None:
    name = f"page-{random.randrange(3)}"
    place = root / "pages" / f"{name}.md"
    if place.exists():
        place.unlink()
    else:
        _write(place, f"---\ntitle: Page {random.randrange(99)}\n---\n\nWords.\n")


def attach(root: Path, random: Random) -> None:
    """A file that comes along, and its link; or another content of it."""
    paper = root / "papers" / "handout.txt"
    if not paper.exists():
        place = _any(root, "lessons/*.md", random)
        _write(place, place.read_text(encoding="utf-8") + "\n[A handout](../papers/handout.txt).\n")
    _write(paper, str(random.random()))


def picture(root: Path, random: Random) -> None:
    """A picture of the author's own with its card, and where it is shown; or another picture, another card,
    or none, which is a mistake.
    """
    place = root / "papers" / "bag.png"
    card = place.with_name("bag.png.yaml")
    if not place.exists():
        text = _any(root, "lessons/*.md", random)
        _write(text, text.read_text(encoding="utf-8") + "\n![A bag](../papers/bag.png)\n")
    if random.randrange(4) == 0 and card.exists():
        card.unlink()
        return
    Image.new("RGB", (600, 400), (random.randrange(256), 90, 90)).save(place)
    blurred = "obscure: [{at: [300, 200], across: 80 px}]\n" * random.randrange(2)
    credit = random.choice(WORDS)
    _write(card, f"source: {{kind: own, credit: {credit}}}\npeople: []\n{blurred}")


def add_lesson(root: Path, random: Random) -> None:
    name = f"added-{random.randrange(4)}"
    _write(
        root / "lessons" / f"{name}.md",
        _LESSON.format(number=random.randrange(1, 9), clip=CLIP, topic="hands"),
    )


def rename_lesson(root: Path, random: Random) -> None:
    found = sorted(root.glob("lessons/added-*.md"))
    if found:
        chosen = random.choice(found)
        _turn(chosen, f"former: [{chosen.stem}]")
        chosen.rename(chosen.with_name(f"moved-{random.randrange(4)}.md"))


def remove_lesson(root: Path, random: Random) -> None:
    for place in sorted(root.glob("lessons/moved-*.md"))[:1]:
        place.unlink()


def add_clip(root: Path, random: Random) -> None:
    to = root / "clips" / f"clip-{random.randrange(3)}"
    if to.exists():
        shutil.rmtree(to)
    else:
        shutil.copytree(root / "clips" / CLIP, to)


def use_clip(root: Path, random: Random) -> None:
    clip = _any(root, "clips/*", random).name
    _change(root / "lessons" / "two.md", r"^clip: .*$", lambda _: f"clip: {clip}", random)


def rename_clip(root: Path, random: Random) -> None:
    at = _any(root, "clips/*", random)
    to = at.with_name(f"renamed-{random.randrange(99)}")
    if at.name != CLIP and not to.exists():
        at.rename(to)
        for lesson in root.glob("lessons/*.md"):
            text = lesson.read_text(encoding="utf-8")
            if f"clip: {at.name}\n" in text:
                _write(lesson, text.replace(f"clip: {at.name}\n", f"clip: {to.name}\n"))


def touch(root: Path, random: Random) -> None:
    """Nothing but its time is another."""
    for place in root.glob("lessons/*.md"):
        place.touch()


EDITS: tuple[Callable[[Path, Random], None], ...] = (
    prose,
    prose_above,
    title,
    topic,
    date,
    hidden,
    draft,
    mistake,
    mark,
    card,
    second_view,
    other_swing,
    track,
    glossary,
    site,
    style,
    template,
    words,
    page,
    attach,
    picture,
    add_lesson,
    rename_lesson,
    remove_lesson,
    add_clip,
    use_clip,
    rename_clip,
    touch,
)
