"""What a press costs in an archive after nothing, a word or a mark changed: python -m tests.bench.archives

Makes an archive of each size of `--lessons`: drawn lessons of six figures, a clip for every ten of them, all
of one film. Titles come again and no address is on the diagrams, so that lessons share pictures and it all
is made in minutes. Beside them lies a small one, the ten lessons of one clip: what an edit costs there is its
own work, with nothing around it. Each archive is pressed from nothing and then again and again, every press a
process of its own, side by side with a bare script that starts, walks and stats the same inputs and outputs.
Times are of the processors, the least of `--times` runs; what counts are the ratios.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from tests.press import edits

PROGRAM = Path(__file__).parents[2]
WALK = """
import os, sys
for root in sys.argv[1:]:
    for at, folders, names in os.walk(root):
        folders[:] = [name for name in folders if name not in ("build", "__pycache__")]
        for name in names:
            os.stat(os.path.join(at, name))
"""
PRESS = "from lessonpress.cli import main; main()"
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
OF_A_CLIP, TITLES = 10, 20
SMALL = OF_A_CLIP  # lessons of the archive beside which the others are measured
REST = 2.1  # s until the times of what was written can be trusted: `press/file_hashes.py`


def archive(root: Path, lessons: int, figures: int) -> None:
    """As many lessons, each of so many figures, up to six; a clip for every ten of them, all of one film."""
    edits.make(root)
    site = root / "site.yaml"
    site.write_text(site.read_text(encoding="utf-8").replace("url: https://notebook.example/\n", ""))
    body = "".join(FIGURES[:figures])
    for number in range(lessons):
        clip = f"clip-{number // OF_A_CLIP}"
        if not (root / "clips" / clip).exists():
            shutil.copytree(root / "clips" / edits.CLIP, root / "clips" / clip)
        day = f"20{10 + number % 16}-0{1 + number % 9}-{10 + number % 19}"
        front = f"title: Lesson {number % TITLES}\ndate: {day}\nclip: {clip}\n"
        text = f"---\n{front}topics: [{edits.WORDS[number % 8]}]\n---\n\nOf the hub.\n{body}"
        (root / "lessons" / f"lesson-{number}.md").write_text(text, encoding="utf-8")


@dataclass
class Archive:
    """seconds: by row, of the processors. peak: MB of memory of one process, the most, by row."""

    root: Path
    out: Path
    lessons: int
    seconds: dict[str, float] = field(default_factory=dict)
    peak: dict[str, float] = field(default_factory=dict)

    def run(self, row: str, *words: str) -> None:
        """Runs a process and keeps what it cost, where it is the least for this row."""
        process = subprocess.Popen(
            [sys.executable, "-c", *words], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
        )
        assert process.stderr is not None
        errors = process.stderr.read()
        _, status, used = os.wait4(process.pid, 0)
        if status:
            raise RuntimeError(f"{row}: {errors.decode()}")
        self.seconds[row] = min(self.seconds.get(row, 1e9), used.ru_utime + used.ru_stime)
        self.peak[row] = max(self.peak.get(row, 0.0), used.ru_maxrss / 1024)

    def press(self, row: str) -> None:
        self.run(
            row, PRESS, "press", str(self.root), "--out", str(self.out), "--own-themes", "--workers", "1"
        )

    def walk(self) -> None:
        program = (str(PROGRAM / folder) for folder in ("lessonpress", "themes"))
        self.run("bare walk", WALK, str(self.root), str(self.out), *program)

    def settle(self) -> None:
        """Lets files come to rest, and their state be noted."""
        time.sleep(REST)
        self.press("settled")

    def change_a_word(self) -> None:
        place = self.root / "lessons" / "lesson-0.md"
        place.write_text(place.read_text(encoding="utf-8") + "\nOne more word.\n", encoding="utf-8")

    def move_a_mark(self) -> None:
        place = self.root / "clips" / "clip-0" / "marks.yaml"
        text = place.read_text(encoding="utf-8")
        at = text.index("[") + 1
        end = text.index(",", at)
        place.write_text(f"{text[:at]}{float(text[at:end]) + 0.25:.2f}{text[end:]}", encoding="utf-8")


def measured(archives: Sequence[Archive], times: int) -> None:
    """Every row of every archive; those that are held against each other run one after the other."""
    for one in archives:
        one.press("full press")
        one.settle()
    for _ in range(times):
        for one in archives:
            one.walk()
            one.press("nothing to do")
        for row, change in (("a word", Archive.change_a_word), ("a mark", Archive.move_a_mark)):
            for one in archives:
                change(one)
                one.press(row)
                one.settle()


@dataclass(frozen=True)
class Ratios:
    """Of one archive, beside the small one.

    nothing: a press with nothing to do, in bare walks. word, mark: an edit, in presses with nothing to do and
    what the edit costs by itself (in the small archive, over a press with nothing to do there).
    """

    nothing: float
    word: float
    mark: float

    @classmethod
    def of(cls, one: Archive, small: Archive) -> Ratios:
        idle = one.seconds["nothing to do"]

        def edit(row: str) -> float:
            return one.seconds[row] / (idle + small.seconds[row] - small.seconds["nothing to do"])

        return cls(idle / one.seconds["bare walk"], edit("a word"), edit("a mark"))


ROWS = ("full press", "bare walk", "nothing to do", "a word", "a mark")


def table(archives: Sequence[Archive]) -> str:
    """In Markdown, a column an archive; the first is the small one."""
    ratios = [Ratios.of(one, archives[0]) for one in archives]
    rows = {f"{row}, s of processor": [f"{one.seconds[row]:.3f}" for one in archives] for row in ROWS}
    rows |= {
        "nothing to do, × bare walk": [f"{one.nothing:.2f}" for one in ratios],
        "a word, × nothing to do and its own work": [f"{one.word:.2f}" for one in ratios],
        "a mark, × nothing to do and its own work": [f"{one.mark:.2f}" for one in ratios],
        "full press, ms a lesson": [
            f"{1000 * one.seconds['full press'] / one.lessons:.0f}" for one in archives
        ],
        "full press, MB at the most": [f"{one.peak['full press']:.0f}" for one in archives],
        "a word, MB at the most": [f"{one.peak['a word']:.0f}" for one in archives],
    }
    head = [["", *(f"{one.lessons} lessons" for one in archives)], ["---"] * (len(archives) + 1)]
    return "\n".join(
        f"| {' | '.join(cells)} |" for cells in [*head, *([row, *said] for row, said in rows.items())]
    )


def made(folder: Path, sizes: Sequence[int], figures: int) -> list[Archive]:
    """The small archive and those of these sizes, not pressed yet."""
    archives = []
    for lessons in (SMALL, *sizes):
        root = folder / f"archive-{lessons}"
        archive(root, lessons, figures)
        archives.append(Archive(root, folder / f"out-{lessons}", lessons))
    return archives


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--lessons", type=int, nargs="+", default=[100])
    asked.add_argument("--figures", type=int, default=6)
    asked.add_argument("--times", type=int, default=3)
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        archives = made(Path(folder), given.lessons, given.figures)
        measured(archives, given.times)
    print(table(archives))


if __name__ == "__main__":
    main()
