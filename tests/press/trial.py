"""A site edited at random and pressed after each edit, beside the same site pressed from nothing.

By hand: `PYTHONPATH=. python -m tests.press.trial --steps 60 --seed 1`.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import cycle
from pathlib import Path
from random import Random

from lessonpress.press import spare
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.press.steps import apart
from lessonpress.press.steps.uses import Key
from lessonpress.press.steps.why import said
from lessonpress.records.problem import problem_text
from tests.press import edits
from tests.press.oracle import Expected, Oracle, products


@dataclass(frozen=True)
class Step:
    """An edit and what came of it. changed: paths whose content is another; listed: folders, whose list is.

    asked: products that the finished site before rests on, in words; of others a cause may lie further back.
    expected: what had to be made again. products: hashes of those there are. files: of the site pressed again
    and of that pressed from nothing.
    """

    name: str
    changed: frozenset[str]
    listed: frozenset[str]
    asked: frozenset[str]
    expected: Expected
    products: dict[Key, set[str]]
    again: Pressed
    nothing: Pressed
    files: tuple[dict[str, bytes], dict[str, bytes]]

    @property
    def wrong(self) -> str:
        """What is not as it is to be, "" where all is."""
        told, expected = _problems_of(self.again), _problems_of(self.nothing)
        if told != expected:
            return f"{self.name}: it says {told}, and from nothing {expected}"
        again, nothing = self.files
        other = sorted(path for path in again.keys() | nothing.keys() if again.get(path) != nothing.get(path))
        if other:
            return f"{self.name}: not as from nothing: {other}"
        causes = {f"what lies in {folder}" for folder in self.listed} | self.changed
        needless = [
            str(one)
            for one in self.again.redone
            if one.product in self.asked
            and one.because
            and one.because not in causes
            and not one.because.endswith("which is new")
        ]
        if needless:
            return f"{self.name} of {sorted(causes)}: made again without cause: {needless}"
        unlike = [key for key, hashed in self.expected.products.items() if not hashed <= self.products[key]]
        if unlike:
            return f"{self.name}: products unlike those from nothing: {unlike}"
        wrong = self.expected.wrong([one.product for one in self.again.redone])
        return f"{self.name}: {wrong}" if wrong else ""


def _problems_of(pressed: Pressed) -> list[str]:
    return [problem_text(problem) for problem in pressed.problems.listed()]


def trial(
    folder: Path, make: Callable[[Path], None], steps: int, seed: int, workers: Sequence[int] = (1,)
) -> Iterator[Step]:
    """The site that `make` makes, edited so many times. workers: how many processes press, in turn."""
    random, oracle, in_turn = Random(seed), Oracle(), cycle(workers)
    root, out = folder / "notebook", folder / "out"
    make(root)
    first = _press(root, out)
    _from_nothing(folder, root, first, out)
    oracle.expected(folder / "bare")
    deck: list[Callable[[Path, Random], None]] = []
    good: dict[str, bytes] = {}
    for _ in range(steps):
        deck = deck or random.sample(edits.EDITS, len(edits.EDITS))
        before = _written(root)
        if good:
            edit: Callable[[Path, Random], None] = partial(undo, good)
        else:
            edit = deck.pop()
        edit(root, random)
        after = _written(root)
        again = _press(root, out, next(in_turn))
        good = before if again.summary is None and not good else {}
        nothing, files = _from_nothing(folder, root, again, out)
        asked = frozenset(map(said, oracle.rests))
        yield Step(
            getattr(edit, "__name__", "undo"),
            frozenset(path for path in before.keys() | after.keys() if before.get(path) != after.get(path)),
            frozenset(_folder(path) for path in before.keys() ^ after.keys()),
            asked,
            oracle.expected(
                folder / "bare",
                finished=again.summary is not None,
                idle=again.summary is not None and not again.summary.anew,
            ),
            products(root),
            again,
            nothing,
            files,
        )


def undo(good: dict[str, bytes], root: Path, _: Random) -> None:
    """The site as it was before an edit that made a mistake."""
    now = _written(root)
    for path in now.keys() - good.keys():
        (root / path).unlink()
    for path, content in good.items():
        if now.get(path) != content:
            (root / path).parent.mkdir(parents=True, exist_ok=True)
            (root / path).write_bytes(content)
    for folder in sorted((root / "clips").iterdir()):
        if not any(folder.iterdir()):
            folder.rmdir()


def _from_nothing(
    folder: Path, root: Path, again: Pressed, out: Path
) -> tuple[Pressed, tuple[dict[str, bytes], dict[str, bytes]]]:
    bare, fresh = folder / "bare", folder / "fresh"
    for place in (bare, fresh):
        shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(root, bare, ignore=shutil.ignore_patterns("build"))
    nothing = _press(bare, fresh)
    both = _files(out), _files(fresh)
    return nothing, both if again.summary and nothing.summary else ({}, {})


def _press(root: Path, out: Path, workers: int = 1) -> Pressed:
    return press(root, out, Silent(), own_themes=True, workers=workers)


def _folder(path: str) -> str:
    """Of a file; of a clip's file the folder of clips, whose list may be another too."""
    return path.rpartition("/")[0] if not path.startswith("clips/") else "clips"


def _written(root: Path) -> dict[str, bytes]:
    return {path: content for path, content in _files(root).items() if not path.startswith("build/")}


def _files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--steps", type=int, default=60)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--workers", type=int, nargs="+", default=[1, 2, 4], help="in turn")
    given = asked.parse_args()
    apart.WORTH_A_POOL = spare.WORTH_IT = 1
    with tempfile.TemporaryDirectory() as folder:
        steps = trial(Path(folder), edits.make, given.steps, given.seed, given.workers)
        for number, step in enumerate(steps, start=1):
            print(
                f"{number:3} {step.name:14} {len(step.again.redone):4} made again  {step.wrong}", flush=True
            )


if __name__ == "__main__":
    main()
