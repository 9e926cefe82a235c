"""Tables of marks that the program found, `mark,frame,x,y,u`.

`tracks.csv`: marks carried over frames by tracking. `suggested.csv`: marks suggested to the author, who has
not said yet whether they are right; no measure and no press reads them.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterator
from dataclasses import replace

from lessonpress.manuscript.clip.marks import Marks, check_name, frame_number
from lessonpress.manuscript.text.passage import Passage
from lessonpress.records import Location, Observation, Problems

HEADER = ("mark", "frame", "x", "y", "u")

_NUMBER = re.compile(r"[+-]?([0-9]{1,12}(\.[0-9]{0,12})?|\.[0-9]{1,12})([eE][+-]?[0-9]{1,2})?")


def read_tracks(passage: Passage, problems: Problems) -> Marks:
    """Tracked observations of a file; faulty rows are reported, not kept. `with_origins` adds origin."""
    return _table(passage, problems, tracked=True)


def read_suggestions(passage: Passage, problems: Problems) -> Marks:
    """Suggested observations of a file; faulty rows are reported, not kept."""
    return _table(passage, problems, suggested=True)


def _table(passage: Passage, problems: Problems, *, tracked: bool = False, suggested: bool = False) -> Marks:
    tracks = Marks()
    lines = passage.lines
    if [field.strip() for field in lines[0].split(",")] != list(HEADER):
        problems.error(passage.at(0), "the first line is not the header", f"write `{','.join(HEADER)}`")
        return tracks
    for number, line in enumerate(lines[1:], 1):
        if line.strip():
            seen = _row(_fields(line), passage, number, problems)
            if seen is not None:
                _add(
                    replace(seen, tracked=tracked, suggested=suggested),
                    passage.spot(number),
                    tracks,
                    problems,
                )
    return tracks


Field = tuple[str, int]  # its text, and the column it begins in, from 0


def _fields(line: str) -> list[Field]:
    """The fields of a row. A field with a comma in it is none of ours, so quotes only wrap one."""
    if '"' in line and len(line) <= csv.field_size_limit():
        return [(text, max(0, line.find(text))) for text in next(csv.reader([line]))]
    return list(_split(line))


def _split(line: str) -> Iterator[Field]:
    at = 0
    for text in line.split(","):
        yield text.strip(), at + len(text) - len(text.lstrip())
        at += len(text) + 1


def _row(fields: list[Field], passage: Passage, line: int, problems: Problems) -> Observation | None:
    if len(fields) != len(HEADER):
        wrong = f"this row has {len(fields)} field{'s' * (len(fields) != 1)}, not {len(HEADER)}"
        problems.error(passage.spot(line), wrong, f"write `{','.join(HEADER)}`, with a decimal point")
        return None
    locations = [passage.spot(line, at) for _, at in fields]
    mark, frame, *numbers = (text for text, _ in fields)
    known = check_name(mark, locations[0], problems)
    number = frame_number(frame)
    if number is None:
        problems.error(locations[1], f"`{frame}` is not a frame", "frames are whole numbers from 0")
    x, y, u = (
        _number(text, location, problems) for text, location in zip(numbers, locations[2:], strict=True)
    )
    if u is not None and u <= 0:
        problems.error(
            locations[4], f"the uncertainty of a track cannot be `{numbers[2]}`", "it is above zero, in px"
        )
    elif known and number is not None and x is not None and y is not None and u is not None:
        return Observation(mark, number, x, y, u)
    return None


def _add(observation: Observation, location: Location, tracks: Marks, problems: Problems) -> None:
    key = (observation.mark, observation.frame)
    if key in tracks.locations:
        wrong = f"`{observation.mark}` at frame {observation.frame} is written twice"
        problems.error(
            location, f"{wrong}; the first is in line {tracks.locations[key].line}", "keep one of the two"
        )
        return
    tracks.names.setdefault(observation.mark, location)
    tracks.add(observation, location)


def _number(text: str, location: Location, problems: Problems) -> float | None:
    """A finite number, not below zero; None once reported."""
    if not _NUMBER.fullmatch(text):
        wrong = f"`{text}` is not a number of px" if text else "a number of px is missing"
        problems.error(location, wrong, "write it with a decimal point")
        return None
    value = float(text)
    if value < 0 or not math.isfinite(value):
        problems.error(location, f"`{text}` lies outside the picture", "coordinates run from 0")
        return None
    return value


def with_origins(tracks: Marks, hand: Marks) -> list[Observation]:
    """The tracked observations with the hand-placed frame each was carried from.

    Rows on a frame that was placed by hand are left out: the hand wins. A row belongs to the nearest frame of
    its mark that was placed by hand, the earlier of two as near.
    """
    frames: dict[str, list[int]] = {}
    for observation in hand.observations:
        frames.setdefault(observation.mark, []).append(observation.frame)
    carried = []
    for track in tracks.observations:
        own = frames.get(track.mark, [])
        if track.frame not in own:
            origin = min(own, key=lambda frame, at=track.frame: (abs(frame - at), frame), default=None)  # type: ignore[misc]
            carried.append(replace(track, origin=origin))
    return carried
