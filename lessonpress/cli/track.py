"""`track CLIP MARK… [--from INSTANT] [--to INSTANT]`: marks carried over frames."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.press import folder_of_site, keep_save
from lessonpress.records import UsageError, nearest

if TYPE_CHECKING:
    from lessonpress.footage import Guidance, Track
    from lessonpress.intake import OpenedClip


@click.command("track")
@click.argument("clip")
@click.argument("marks", nargs=-1, required=True, metavar="MARK…")
@click.option("--from", "start", metavar="INSTANT", help="First instant; else the first hand-placed frame.")
@click.option("--to", "end", metavar="INSTANT", help="Last instant; else the last hand-placed frame.")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(clip: str, marks: tuple[str, ...], start: str | None, end: str | None, site: Path | None) -> None:
    """Carry each MARK of CLIP over the pictures between those it was placed on by hand, into tracks.csv."""
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries
    from lessonpress.cli.problems import print_problems

    with heavy_libraries():
        from lessonpress.intake import (
            TRACKS,
            carry_mark,
            instant_frame,
            keep_tracks,
            open_clip,
            stretch_to_carry,
        )
    opened, problems = open_clip(root, clip)
    print_problems(problems, root)
    if opened is None or problems.errors:
        raise SiteProblemsError
    count = len(opened.index)
    stretches: dict[str, tuple[int, int]] = {}
    for mark in dict.fromkeys(marks):
        if not any(seen.mark == mark for seen in opened.clip.hand_placed):
            close = nearest(mark, opened.clip.marks)
            raise UsageError(f"`{mark}` is placed by hand nowhere on {clip}" + _near(close))
        first, last = stretch_to_carry(opened.clip, mark, count)
        first = first if start is None else instant_frame(opened, start)
        last = last if end is None else instant_frame(opened, end)
        if first > last:
            raise UsageError(f"the stretch ends with frame {last}, before it begins with frame {first}")
        stretches[mark] = first, last
    guidance = _seen_of_the_body(root, opened, stretches)
    made: dict[str, Track] = {}
    for mark, (first, last) in stretches.items():
        made[mark] = carry_mark(opened.clip, opened.index, mark, first, last, guidance.get(mark))
        click.echo(f"{mark}: {_carried(made[mark])} (frames {first} to {last} asked for)")
        for line in _missing(mark, made[mark]):
            click.echo(line, err=True)
    file = opened.clip.folder / TRACKS
    keep_save(file, file.read_bytes() if file.is_file() else None)
    click.echo(f"kept in {keep_tracks(opened.clip, made)}")


def _seen_of_the_body(
    root: Path, opened: OpenedClip, stretches: Mapping[str, tuple[int, int]]
) -> Mapping[str, Guidance]:
    """What is suggested for the marks over their stretches, where the extra is there and the site allows
    it.
    """
    from lessonpress.cli.progress import shown
    from lessonpress.footage import Suggestion, guidances, real_times
    from lessonpress.intake import frames_to_look_at, suggested_in, suggestions_allowed

    first = min(first for first, _ in stretches.values())
    last = max(last for _, last in stretches.values())
    marks, frames = frames_to_look_at(opened.clip, stretches, first, last)
    if not marks or opened.clip.card is None or not suggestions_allowed(root):
        return {}
    found: list[Suggestion] = []
    with shown() as progress:
        progress.begin("Looking for the body", len(frames))
        for one in suggested_in(opened, frames, marks, by_hand_too=True):
            found.append(one)
            progress.step()
    card = opened.clip.card
    return guidances(found, card.view, marks, real_times(opened.index.times, card.filmed_at))


def _near(close: tuple[str, ...]) -> str:
    return f"; close to it: {', '.join(close)}" if close else ""


def _carried(track: Track) -> str:
    if not track.rows:
        return "carried to no frame"
    frames = [row.frame for row in track.rows]
    worst = max(row.u or 0.0 for row in track.rows)
    return (
        f"carried to {len(frames)} frame{'s' * (len(frames) > 1)}, {_spans(frames)}, u up to {worst:.2f} px"
    )


def _spans(frames: list[int]) -> str:
    """Frames in ascending order as "30 to 33, 88"."""
    starts = [frame for frame in frames if frame - 1 not in frames]
    ends = [frame for frame in frames if frame + 1 not in frames]
    return ", ".join(
        str(start) if start == end else f"{start} to {end}" for start, end in zip(starts, ends, strict=True)
    )


def _missing(mark: str, track: Track) -> Iterator[str]:
    """For each gap, its frames and reason, and the frame on which a mark placed by hand would close it."""
    for gap in track.gaps:
        yield f"warning: {mark} is not carried to frames {_spans(list(range(gap.first, gap.last + 1)))}"
        for reason in gap.reason.split("; "):
            yield f"  {reason}"
        middle = (gap.first + gap.last) // 2
        yield f"  place it by hand on frame {middle}, then carry it again"
