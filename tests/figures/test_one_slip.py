"""One slip is one message: a wrong value in any field of any author's file, and all that is reported.

A routine run tries SAMPLED of them, drawn by SEED; SLIPS=all in the environment tries every one, which takes
some six minutes of one core.
"""

from __future__ import annotations

import os
import random
from fnmatch import fnmatch
from pathlib import Path

from lessonpress.records.problem import Problem
from tests.corpus import sound
from tests.corpus.texts.slips import PLACED, Reader, Slip, slips

SAMPLED = 160
SEED = 20261125

# Slips that are several mistakes: file: field: value → why each has its own message
SEVERAL: dict[str, str] = {
    "site.yaml: ranges.*: {}": "two keys are required, and neither is there",
    "*/clip.yaml: middles.*: [[]12]": "it names no mark, and two are required",
    "*/clip.yaml: plumb.?: [[]12]": "it names no mark, and two are required",
    "*/clip.yaml: scale.?.between: [[]12]": "it names no mark, and two are required",
    "*/clip.yaml: events: {}": "three events are asked for, and each is to be written",
    "*/clip.yaml: events.setup: 12": "a picture there is, on which two marks are to be placed",
    "*/clip.yaml: events.setup: 0 s": "a picture there is, on which two marks are to be placed",
    "*/clip.yaml: events.impact: 0 s": "a picture there is, on which two marks are to be placed",
    "lessons/pelvis.md: frames: [[]12]": "a picture there is, on which two marks are to be placed",
    "lessons/pelvis.md: frames.?: 12": "a picture there is, on which two marks are to be placed",
    "lessons/pelvis.md: frames.?: 0 s": "a picture there is, on which two marks are to be placed",
}


def test_one_slip_is_one_message(tmp_path: Path) -> None:
    root = sound.written(tmp_path / "site", PLACED)
    reader = Reader(root)
    assert reader.told() == []
    several = {slip: told for slip in tried(root) if len(told := reader.told_of(slip)) > 1 and not why(slip)}
    assert not several, "\n".join(printed(slip, told) for slip, told in several.items())


def tried(root: Path) -> list[Slip]:
    """Those of this run."""
    every = slips(root)
    return every if os.environ.get("SLIPS") == "all" else random.Random(SEED).sample(every, SAMPLED)


def why(slip: Slip) -> str:
    """Why a slip may have several messages, "" where it may not."""
    return next((reason for pattern, reason in SEVERAL.items() if fnmatch(str(slip), pattern)), "")


def printed(slip: Slip, told: list[Problem]) -> str:
    return "\n".join(
        [str(slip)[:120], *(f"    {one.location}: {one.severity}: {one.wrong[:120]}" for one in told)]
    )


def test_what_has_several_messages_is_still_a_slip_of_the_table(tmp_path: Path) -> None:
    names = [str(slip) for slip in slips(sound.written(tmp_path / "site", PLACED))]
    assert [pattern for pattern in SEVERAL if not any(fnmatch(name, pattern) for name in names)] == []
