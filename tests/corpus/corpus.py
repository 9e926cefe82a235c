"""The corpus run: cases made, the program run on each, what went wrong counted and kept."""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from tests.corpus import photos, sound, texts, videos
from tests.corpus.case import Case, cases_of
from tests.corpus.judged import RULES, Seen, broken, state_of
from tests.corpus.program import Done, run
from tests.corpus.videos.film import put


@dataclass(frozen=True)
class Judged:
    case: Case
    said: str
    codes: tuple[int | None, ...]
    broken: tuple[str, ...]


@dataclass
class Corpus:
    """folder: where cases are made. keep: where those that break a rule stay, each with what was printed."""

    folder: Path
    keep: Path
    root: Path = field(init=False)
    films: dict[str, Path] = field(init=False)

    def __post_init__(self) -> None:
        shutil.rmtree(self.folder, ignore_errors=True)
        self.folder.mkdir(parents=True)
        self.keep.mkdir(parents=True, exist_ok=True)
        self.root = sound.make(self.folder / "sound")
        self.films = sound.films(self.root, self.folder / "films")
        self._good = state_of(self.root / "build" / "site")

    def cases(self, seed: int, texts_wanted: int, videos_wanted: int, photos_wanted: int = 0) -> list[Case]:
        damaged = {name: put(self.films, family) for name, family in videos.FAMILIES.items()}
        return [
            *cases_of(texts.FAMILIES, texts_wanted, seed, video=False),
            *cases_of(damaged, videos_wanted, seed, video=True),
            *cases_of(photos.FAMILIES, photos_wanted, seed, video=False),
        ]

    def judge(self, cases: Iterable[Case], jobs: int, tell: Callable[[Judged], None]) -> list[Judged]:
        made = []
        with ThreadPoolExecutor(jobs) as pool:  # threads: the work is done in the program's own processes
            for judged in pool.map(self._judged, cases):
                tell(judged)
                made.append(judged)
        return made

    def _judged(self, case: Case) -> Judged:
        sandbox = self.folder / "cases" / case.name
        sandbox.mkdir(parents=True)
        root = sound.copy(self.root, sandbox / "site")
        said = case.made(root)
        outside = state_of(sandbox, ("site", "tmp", "home"))
        done = tuple(_commands(case, root, sandbox))
        rules = tuple(broken(Seen(root, done, self._good, outside)))
        if rules:
            told = [f"{case.name}, seed {case.seed}: {said}", f"broken: {', '.join(rules)}"]
            told += [
                f"\n$ lessonpress {' '.join(one.words)}\n{one.said}\nleft with {one.code}" for one in done
            ]
            (sandbox / "told.txt").write_text("\n".join(told), encoding="utf-8", errors="replace")
            shutil.rmtree(self.keep / case.name, ignore_errors=True)
            shutil.move(sandbox, self.keep / case.name)
        else:
            shutil.rmtree(sandbox, ignore_errors=True)
        return Judged(case, said, tuple(one.code for one in done), rules)


AS_IT_IS = 8  # of so many cases of a family one is run with its processes begun as the program begins them


def _commands(case: Case, root: Path, sandbox: Path) -> Iterable[Done]:
    light = case.number % AS_IT_IS != 0
    one_worker = ["--workers", "1"] if light else []
    yield run(["press", str(root), *one_worker], sandbox, light=light)
    if case.number % 4 == 0:
        yield run(["measure", "pelvis", "--site", str(root)], sandbox, light=light)
    if case.number % 4 == 1:
        yield run(["explain", "pelvis", "navel-back", "--site", str(root)], sandbox, light=light)
    if case.video and case.number % 4 == 2:
        videos_there = [place for place in (root / "clips").glob("*/*") if place.stem == sound.CLIP]
        for video in videos_there:
            yield run(["ingest", str(video), "--site", str(root), "--name", "again"], sandbox, light=light)


def table(judged: list[Judged]) -> str:
    """How often each rule was broken, by family of damage."""
    families = list(dict.fromkeys(one.case.family for one in judged))
    counts = Counter((one.case.family, rule) for one in judged for rule in one.broken)
    rows = [("family", "cases", "pressed", *RULES)]
    for family in families:
        own = [one for one in judged if one.case.family == family]
        pressed = sum(one.codes[0] == 0 for one in own)
        rows.append((family, str(len(own)), str(pressed), *(str(counts[family, rule]) for rule in RULES)))
    total = [str(sum(int(row[at]) for row in rows[1:])) for at in range(1, len(rows[0]))]
    rows.append(("all", *total))
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    return "\n".join(
        "  ".join(cell.rjust(wide) for cell, wide in zip(row, widths, strict=True)) for row in rows
    )
