"""Has marks suggested on a clip's pictures and keeps them in its suggested.csv, until the author answers.

Nothing is suggested where a mark is placed by hand. Rows of the marks and frames asked about are replaced,
others kept.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from pathlib import Path

from lessonpress.disk import write_atomically
from lessonpress.footage import Suggestion, suggest_marks, take_pictures
from lessonpress.intake.clip import OpenedClip
from lessonpress.manuscript import SUGGESTIONS, Marks, read_site_file, read_suggestions, read_text, table
from lessonpress.records import Observation, Problems, UsageError


def suggestions_allowed(root: Path) -> bool:
    """Whether site.yaml has nothing against marks that are suggested."""
    file = read_site_file(root, {"site.yaml"} if (root / "site.yaml").is_file() else set(), Problems())
    return file is None or file.suggested == "yes"


def frames_to_suggest(opened: OpenedClip) -> list[int]:
    """The frames of the clip's events. Raises UsageError where it has none."""
    if not opened.events:
        raise UsageError(
            f"{opened.clip.name} has no events yet; name pictures with --at, or write events on its card"
        )
    return sorted(set(opened.events.values()))


def suggested_in(
    opened: OpenedClip, frames: Collection[int], marks: Collection[str], *, by_hand_too: bool = False
) -> Iterator[Suggestion]:
    """A suggestion for each frame, ascending, without what is placed by hand there, unless that too is
    wanted.

    Raises FootageError for a bad video and UsageError where the extra is not installed.
    """
    clip = opened.clip
    assert clip.card is not None and clip.video is not None
    by_hand = {(seen.mark, seen.frame) for seen in clip.hand_placed}
    pictures = take_pictures(clip.video, opened.index, frames, deinterlace=clip.card.deinterlace)
    for found in suggest_marks(pictures, clip.card.view, clip.card.hand, marks):
        placed = {mark for mark, frame in by_hand if frame == found.frame}
        yield found if by_hand_too else found.without(placed)


def keep_suggestions(
    root: Path, opened: OpenedClip, marks: Collection[str], made: Iterable[Suggestion]
) -> Path:
    """Write the clip's suggested.csv anew, whole or not at all.

    Raises UsageError where the file that is there has mistakes, OSError where the disk fails.
    """
    made = tuple(made)
    asked = {(mark, one.frame) for mark in marks for one in made}
    path = opened.clip.folder / SUGGESTIONS
    kept = [seen for seen in _kept(root, path) if (seen.mark, seen.frame) not in asked]
    write_atomically(path, table([], (), [*kept, *(row for one in made for row in one.rows)]).encode())
    return path


def _kept(root: Path, path: Path) -> list[Observation]:
    problems = Problems()
    passage = read_text(root, path, problems) if path.is_file() else None
    found = read_suggestions(passage, problems) if passage else Marks()
    if problems.errors:
        first = problems.errors[0]
        raise UsageError(f"{first.location.path}:{first.location.line}: {first.wrong}; {first.right}")
    return found.observations
