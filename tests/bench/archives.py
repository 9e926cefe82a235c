"""What a press costs after nothing, a word or a mark was changed: python -m tests.bench.archives

Makes an archive of `--lessons` lessons over drawn clips of one film (or copies `--site`), presses it from
nothing, and then again and again, each press a process of its own, side by side with a bare script that
starts, walks and stats the same inputs and outputs. Times are those of the processors, the least of `--times`
runs; what counts are the ratios.
"""

from __future__ import annotations

import argparse
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from tests.press import edits

WALK = """
import os, sys
for root in sys.argv[1:]:
    for at, folders, names in os.walk(root):
        folders[:] = [name for name in folders if name != "build"]
        for name in names:
            os.stat(os.path.join(at, name))
"""
EVENTS = ("setup", "top", "impact", "finish")
FIGURES = tuple(
    f"""
```frame
id: at-{number}
at: {event}
draw:
  - use: usual
  - distance: [trail-ankle, lead-ankle]
    as: width-{number}
```

Words about the hips, the hub and the grip, and {{width-{number}}}.
"""
    for number, event in enumerate((*EVENTS, "top", "impact"))
)
PRESS = "from lessonpress.cli import main; main()"


def archive(root: Path, lessons: int, figures: int) -> None:
    """As many lessons, each of so many figures, up to six; a clip for every ten of them, all of one film."""
    edits.make(root)
    body = "".join(FIGURES[:figures])
    for number in range(lessons):
        clip = f"clip-{number // 10}"
        if not (root / "clips" / clip).exists():
            shutil.copytree(root / "clips" / edits.CLIP, root / "clips" / clip)
        front = f"title: Lesson {number}\ndate: 20{10 + number % 16}-0{1 + number % 9}-11\nclip: {clip}\n"
        text = f"---\n{front}topics: [{edits.WORDS[number % 8]}]\n---\n\nOf the hub.\n{body}"
        (root / "lessons" / f"lesson-{number}.md").write_text(text, encoding="utf-8")


def cost(*words: str) -> float:
    """Processor seconds of a process and its children."""
    before = _children()
    subprocess.run([sys.executable, "-c", *words], check=True, capture_output=True)
    return _children() - before


def _children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def measured(root: Path, out: Path, lesson: Path, marks: Path, times: int) -> dict[str, float]:
    """By row its processor seconds."""
    press = (PRESS, "press", str(root), "--out", str(out), "--own-themes")
    found = {"full press": cost(*press)}
    rows: dict[str, Callable[[], float]] = {
        "bare walk": lambda: cost(WALK, str(root), str(out)),
        "nothing to do": lambda: cost(*press),
        "a word of a lesson": lambda: _changed(lesson, "\nOne more word.\n", press),
        "a mark moved": lambda: _moved(marks, press),
    }
    cost(*press)
    for _ in range(times):
        for row, run in rows.items():
            found[row] = min(found.get(row, 1e9), run())
    return found


def _changed(place: Path, more: str, press: tuple[str, ...]) -> float:
    place.write_text(place.read_text(encoding="utf-8") + more, encoding="utf-8")
    used = cost(*press)
    cost(*press)  # so that what was written has come to rest before nothing is to do
    return used


def _moved(marks: Path, press: tuple[str, ...]) -> float:
    text = marks.read_text(encoding="utf-8")
    at = text.index("[") + 1
    end = text.index(",", at)
    marks.write_text(f"{text[:at]}{float(text[at:end]) + 0.25:.2f}{text[end:]}", encoding="utf-8")
    used = cost(*press)
    cost(*press)
    return used


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--lessons", type=int, default=100)
    asked.add_argument("--figures", type=int, default=6)
    asked.add_argument("--site", type=Path)
    asked.add_argument("--times", type=int, default=3)
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "archive"
        if given.site is None:
            archive(root, given.lessons, given.figures)
        else:
            shutil.copytree(given.site, root, ignore=shutil.ignore_patterns("build"))
        lesson = min((root / "lessons").glob("*.md"))
        marks = min((root / "clips").glob("*/marks.yaml"))
        found = measured(root, Path(folder) / "out", lesson, marks, given.times)
    print("| press | s of processor | × bare walk | × nothing to do |\n| --- | --- | --- | --- |")
    for row, used in found.items():
        walk, nothing = used / found["bare walk"], used / found["nothing to do"]
        print(f"| {row} | {used:.2f} | {walk:.1f} | {nothing:.1f} |")


if __name__ == "__main__":
    main()
