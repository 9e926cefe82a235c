"""Edits of a clip's card: single values put and taken away, the author's text kept round them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lessonpress.desk.files.filesave import Codec, passage_of, path_of
from lessonpress.desk.files.versions import bytes_of, version_of
from lessonpress.desk.files.yamltext import ABSENT, UneditableError, edited, plain, value_at
from lessonpress.desk.http.requests import CardEdit
from lessonpress.desk.http.responses import RequestError, problems_json
from lessonpress.manuscript import Card, compose_yaml, file_passage, read_fields
from lessonpress.records import Problem, Problems

NAME_OF_FILE = "clip.yaml"


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


def read(file: Path) -> CardText:
    """The card as it is on disk; an empty one where there is none."""
    content, problems = bytes_of(file), Problems()
    passage = passage_of(file, content, problems)
    text = passage.text if passage else ""
    problems.extend(_problems(file, text))
    try:
        data = plain(text)
    except UneditableError:
        data = None
    return CardText(version_of(content), text, data, tuple(problems.in_order()))


def _problems(file: Path, text: str) -> list[Problem]:
    problems = Problems()
    read_fields(Card, compose_yaml(file_passage(path_of(file), text), problems), problems)
    return problems.in_order()


class CardCodec(Codec[CardEdit]):
    """A place is a path on the card; its value as YAML holds it, None where there is none."""

    def opened(self, file: Path, _content: bytes | None) -> str:
        return read(file).text

    def current(self, text: str, edit: CardEdit) -> Any:
        """A key without a value is as good as none."""
        try:
            value = value_at(text, edit.path)
        except UneditableError as error:
            raise RequestError(
                422, f"the card cannot be changed: {error}", "correct it by hand first"
            ) from error
        return None if value is ABSENT else value

    def written(self, text: str, edit: CardEdit) -> str:
        try:
            return edited(text, edit.path, ABSENT if edit.to is None else edit.to)
        except UneditableError as error:
            where = ".".join(str(step) for step in edit.path)
            raise RequestError(422, f"{where}: {error}", f"change it in {NAME_OF_FILE} by hand") from error

    def check(self, file: Path, before: str, after: str) -> None:
        """Refuses a mistake that was not there before."""
        known = {problem.wrong for problem in _problems(file, before)}
        new = [one for one in _problems(file, after) if one.severity == "error" and one.wrong not in known]
        if new:
            raise RequestError(422, new[0].wrong, new[0].right, problems=problems_json(new))
