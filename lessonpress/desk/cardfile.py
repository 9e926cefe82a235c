"""Edits of a clip's card: single values put and taken away, the author's text kept round them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lessonpress.desk.answers import Body, RefusedError, list_in, problems_json
from lessonpress.desk.whole import bytes_of, encoded_like, version_of
from lessonpress.desk.yamltext import ABSENT, UneditableError, edited, plain, value_at
from lessonpress.disk.atomic import write_atomically
from lessonpress.manuscript.card import Card
from lessonpress.manuscript.files import decode_text
from lessonpress.manuscript.nodes import compose_yaml
from lessonpress.manuscript.passage import file_passage
from lessonpress.manuscript.written import read_fields as read_model
from lessonpress.records.problem import Problem, Problems

NAME_OF_FILE = "clip.yaml"
DEEPEST = 6


@dataclass(frozen=True)
class Edit:
    """One value before and after; ABSENT: not there."""

    path: tuple[str | int, ...]
    was: Any
    to: Any

    def json(self) -> dict[str, Any]:
        return {"path": list(self.path), "was": _shown_value(self.was), "to": _shown_value(self.to)}


@dataclass(frozen=True)
class CardText:
    """A card's file. data: as written, None where it is not YAML."""

    version: str
    text: str
    data: Any
    problems: tuple[Problem, ...]

    def json(self) -> dict[str, Any]:
        return {
            "version": self.version,
            "text": self.text,
            "card": self.data,
            "problems": problems_json(self.problems),
        }


def edits_in(body: Body) -> tuple[Edit, ...]:
    """The edits of a request. Raises RefusedError for what is none."""
    return tuple(_edit(one) for one in list_in(body, "edits"))


def read(place: Path) -> CardText:
    """The card as it is on disk; an empty one where there is none."""
    content, problems = bytes_of(place), Problems()
    text = ("" if content is None else decode_text(_shown(place), content, problems)) or ""
    read_model(Card, compose_yaml(file_passage(_shown(place), text), problems), problems)
    try:
        data = plain(text)
    except UneditableError:
        data = None
    return CardText(version_of(content), text, data, tuple(problems.in_order()))


def save(
    place: Path, edits: Iterable[Edit], known: str | None, *, anyway: bool = False
) -> tuple[CardText, bool, tuple[Edit, ...]]:
    """Writes the edits, all or none: the card as it is then, whether it was merged, what was done.

    Raises RefusedError: 409 where they collide with what is on disk, 422 where an edit cannot be made or
    would make a mistake that was not there before.
    """
    before = read(place)
    text = before.text
    collisions, done = [], []
    for edit in edits:
        disk = _value(text, edit.path)
        if not anyway and disk != edit.was and disk != edit.to:
            collisions.append({**edit.json(), "disk": _shown_value(disk)})
            continue
        done.append(Edit(edit.path, disk, edit.to))
        if disk != edit.to:
            text = _written(text, edit)
    if collisions:
        raise RefusedError(
            409,
            f"{NAME_OF_FILE} was changed meanwhile, just where you changed it",
            "look at both, then keep one",
            collisions=collisions,
            version=before.version,
        )
    _refuse_new_mistakes(before, _shown(place), text)
    if text != before.text:
        write_atomically(place, encoded_like(bytes_of(place), text))
    return read(place), known is not None and known != before.version, tuple(done)


def _refuse_new_mistakes(before: CardText, path: str, text: str) -> None:
    problems = Problems()
    read_model(Card, compose_yaml(file_passage(path, text), problems), problems)
    told = {problem.wrong for problem in before.problems}
    new = [
        problem
        for problem in problems.in_order()
        if problem.severity == "error" and problem.wrong not in told
    ]
    if new:
        raise RefusedError(422, new[0].wrong, new[0].right, problems=problems_json(new))


def _edit(given: Any) -> Edit:
    path = given.get("path") if isinstance(given, dict) else None
    if not isinstance(path, list) or not 1 <= len(path) <= DEEPEST or not isinstance(path[0], str):
        raise RefusedError(400, "an edit has a `path` of keys and list places")
    for step in path:
        if isinstance(step, bool) or not isinstance(step, str | int) or (isinstance(step, int) and step < 0):
            raise RefusedError(400, "a `path` is made of texts and numbers")
    return Edit(tuple(path), _or_absent(given.get("was")), _or_absent(given.get("to")))


def _or_absent(value: Any) -> Any:
    return ABSENT if value is None else value


def _shown_value(value: Any) -> Any:
    return None if value is ABSENT else value


def _value(text: str, path: tuple[str | int, ...]) -> Any:
    """What is there; a key without a value is as good as none."""
    try:
        found = value_at(text, path)
    except UneditableError as error:
        raise RefusedError(422, f"the card cannot be changed: {error}", "correct it by hand first") from error
    return ABSENT if found is None else found


def _written(text: str, edit: Edit) -> str:
    try:
        return edited(text, edit.path, edit.to)
    except UneditableError as error:
        where = ".".join(str(step) for step in edit.path)
        raise RefusedError(422, f"{where}: {error}", f"change it in {NAME_OF_FILE} by hand") from error


def _shown(place: Path) -> str:
    return f"clips/{place.parent.name}/{place.name}"
