"""Edits of a clip's marks.yaml: placings put, moved and taken away, the author's text kept round them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import mean, stdev
from typing import Any

from lessonpress.desk.answers import Body, RefusedError, list_in, number_in, problems_json, text_in, whole_in
from lessonpress.desk.whole import bytes_of, encoded_like, version_of
from lessonpress.desk.yamltext import ABSENT, UneditableError, edited, value_at
from lessonpress.disk.atomic import write_atomically
from lessonpress.manuscript.files import decode_text
from lessonpress.manuscript.marks import Marks, read_marks
from lessonpress.manuscript.names import NAME
from lessonpress.manuscript.passage import file_passage
from lessonpress.records.problem import Problems

NAME_OF_FILE = "marks.yaml"
LEAST_U = 0.5  # px
ENOUGH_CLICKS = 3  # from so many on, their spread is worth more than the usual error of a click
SAME = 0.0051  # px; coordinates are kept to a hundredth

Placing = tuple[float, ...]  # x, y and, where it is known, u


@dataclass(frozen=True)
class Edit:
    """One placing before and after; None: it is not placed."""

    mark: str
    frame: int
    was: Placing | None
    to: Placing | None

    @property
    def path(self) -> tuple[str, str]:
        return (self.mark, str(self.frame))

    def json(self) -> dict[str, Any]:
        return {"mark": self.mark, "frame": self.frame, "was": self.was, "to": self.to}


@dataclass(frozen=True)
class Saved:
    """What a save did. merged: the file had changed since the version that the caller had."""

    version: str
    merged: bool
    edits: tuple[Edit, ...]


def edits_in(body: Body) -> tuple[Edit, ...]:
    """The edits of a request. Raises RefusedError for what is none."""
    return tuple(_edit(one) for one in list_in(body, "edits"))


def placing_of(clicks: Sequence[tuple[float, float]]) -> Placing:
    """Where a mark is that was clicked so often: the mean; from three clicks on with its uncertainty.

    u: the standard deviation of one click, each axis, both axes' variances averaged, and never under 0.5 px:
    a person who clicks again looks at the same picture with the same idea of where the point is.
    Source: JCGM 100:2008, 4.2.2, the experimental standard deviation of one observation.
    """
    x, y = mean(click[0] for click in clicks), mean(click[1] for click in clicks)
    if len(clicks) < ENOUGH_CLICKS:
        return _rounded((x, y))
    spread = math.sqrt(
        mean((stdev(click[0] for click in clicks) ** 2, stdev(click[1] for click in clicks) ** 2))
    )
    return _rounded((x, y, max(LEAST_U, spread)))


def read(place: Path) -> tuple[str, Marks, Problems]:
    """Version, marks and problems of the file; of none, "" and no marks."""
    content, problems = bytes_of(place), Problems()
    text = "" if content is None else decode_text(_shown(place), content, problems)
    marks = Marks() if text is None else read_marks(file_passage(_shown(place), text), problems)
    return version_of(content), marks, problems


def save(place: Path, edits: Iterable[Edit], known: str | None, *, anyway: bool = False) -> Saved:
    """Writes the edits into the file, all or none. known: the version that the caller had.

    Raises RefusedError: 409 where a placing on disk is neither what the edit found nor what it puts, 422
    where the file as it is cannot be read, since nothing may be written over what an author is at.
    """
    content = bytes_of(place)
    text = _text(place, content)
    collisions, done = [], []
    for edit in edits:
        disk = _on_disk(text, edit)
        if not anyway and not _same(disk, edit.was) and not _same(disk, edit.to):
            collisions.append({**edit.json(), "disk": disk})
            continue
        done.append(Edit(edit.mark, edit.frame, disk, edit.to))
        if not _same(disk, edit.to):
            text = _written(text, edit)
    if collisions:
        raise RefusedError(
            409,
            f"{NAME_OF_FILE} was changed meanwhile, just where you changed it",
            "look at both, then keep one",
            collisions=collisions,
            version=version_of(content),
        )
    new = encoded_like(content, text)
    if new != (content or b""):
        write_atomically(place, new)
    merged = known is not None and known != version_of(content)
    return Saved(version_of(new), merged, tuple(done))


def _edit(given: Any) -> Edit:
    if not isinstance(given, dict):
        raise RefusedError(400, "an edit is a mapping")
    mark = text_in(given, "mark")
    if not NAME.fullmatch(mark) or len(mark) > 80:
        raise RefusedError(400, f"`{mark[:80]}` is not a mark's name", "small letters, digits and hyphens")
    to = _clicked(given["clicks"]) if "clicks" in given else _placing(given.get("to"), "to")
    return Edit(mark, whole_in(given, "frame"), _placing(given.get("was"), "was"), to)


def _clicked(clicks: Any) -> Placing:
    if not isinstance(clicks, list) or not 1 <= len(clicks) <= 100:
        raise RefusedError(400, "`clicks` is to be a list of places")
    return placing_of([_point(click) for click in clicks])


def _point(given: Any) -> tuple[float, float]:
    placing = _placing(given, "a click")
    if placing is None or len(placing) != 2:
        raise RefusedError(400, "a click is two numbers")
    return placing[0], placing[1]


def _placing(given: Any, words: str) -> Placing | None:
    if given is None:
        return None
    if not isinstance(given, list) or not 2 <= len(given) <= 3:
        raise RefusedError(400, f"`{words}` is to be [x, y], [x, y, u] or null")
    numbers = tuple(number_in(number, f"`{words}`") for number in given)
    if min(numbers[:2]) < 0 or (len(numbers) == 3 and numbers[2] <= 0):
        raise RefusedError(400, f"`{words}` lies outside the picture", "x and y from 0, u above 0")
    return _rounded(numbers)


def _rounded(numbers: Placing) -> Placing:
    return tuple(round(number, 2) for number in numbers)


def _text(place: Path, content: bytes | None) -> str:
    problems = Problems()
    if content is None:
        return ""
    read_as = decode_text(_shown(place), content, problems)
    if read_as is not None:
        read_marks(file_passage(_shown(place), read_as), problems)
    if problems.errors or read_as is None:
        raise RefusedError(
            422,
            f"{_shown(place)} has mistakes, so nothing is written into it",
            "correct it by hand first",
            problems=problems_json(problems.in_order()),
        )
    return read_as


def _on_disk(text: str, edit: Edit) -> Placing | None:
    found = _value(text, edit)
    return tuple(float(number) for number in found) if isinstance(found, list) else None


def _value(text: str, edit: Edit) -> Any:
    try:
        return value_at(text, edit.path)
    except UneditableError as error:
        raise RefusedError(422, f"{NAME_OF_FILE}: {error}", "correct it by hand first") from error


def _same(one: Placing | None, other: Placing | None) -> bool:
    if one is None or other is None:
        return one is other
    return len(one) == len(other) and all(abs(a - b) < SAME for a, b in zip(one, other, strict=True))


def _written(text: str, edit: Edit) -> str:
    try:
        return edited(text, edit.path, ABSENT if edit.to is None else list(edit.to), blocks=2)
    except UneditableError as error:
        raise RefusedError(
            422, f"{edit.mark} at frame {edit.frame}: {error}", f"change it in {NAME_OF_FILE} by hand"
        ) from error


def _shown(place: Path) -> str:
    return f"clips/{place.parent.name}/{place.name}"
