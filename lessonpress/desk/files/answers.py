"""A finding of the last look answered in its file: `meant: {ID: why}` in the front matter or on the card."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lessonpress.desk.files import filesave
from lessonpress.desk.files.cardfile import NAME_OF_FILE, CardCodec
from lessonpress.desk.files.filesave import Codec
from lessonpress.desk.files.yamltext import ABSENT, UneditableError, edited, value_at
from lessonpress.desk.http.paths import clip_folder, inside
from lessonpress.desk.http.requests import AnswerFinding, CardEdit
from lessonpress.desk.http.responses import RequestError, problems_json
from lessonpress.footage import is_still
from lessonpress.manuscript import STILL_CARD_SUFFIX, decode_text, front_end
from lessonpress.records import Problems

KEY = "meant"


def answer(root: Path, asked: AnswerFinding) -> str:
    """Writes the answer, or takes it away; the path of the file that holds it. root: the site's, resolved.

    Raises RequestError where the file is none that can hold answers, or was answered otherwise meanwhile.
    """
    folder, *names = asked.path.split("/")
    is_text = folder in ("lessons", "pages") and len(names) == 1 and names[0].endswith(".md")
    is_still_card = is_still(asked.path.removesuffix(STILL_CARD_SUFFIX)) and len(names) > 0
    if is_text or is_still_card:
        file = inside(root, folder, *names)
        if not file.is_file():
            raise RequestError(404, f"there is no file {asked.path}", "look once more")
        filesave.save(_TextCodec() if is_text else _StillCardCodec(), file, [asked])
    elif folder == "clips" and len(names) == 2:
        file = clip_folder(root, names[0]) / NAME_OF_FILE
        edit = CardEdit(path=(KEY, asked.finding), was=asked.was, to=asked.to)
        filesave.save(CardCodec(), inside(root, folder, names[0], NAME_OF_FILE), [edit])
    else:
        raise RequestError(422, "no answer can be written there", "answer in a lesson, a page or a card")
    return file.relative_to(root).as_posix()


class _TextCodec(Codec[AnswerFinding]):
    """A place is an answer in the front matter of a lesson or a page."""

    def parted(self, text: str) -> tuple[str, str, str]:
        """What comes before the YAML, the YAML, and what follows it."""
        lines = text.split("\n")
        end = front_end(lines)
        if end is None:
            raise RequestError(422, "the text has no front matter", "write the answer by hand")
        return f"{lines[0]}\n", "".join(f"{line}\n" for line in lines[1:end]), "\n".join(lines[end:])

    def name_of(self, file: Path) -> str:
        return f"{file.parent.name}/{file.name}"

    def opened(self, file: Path, content: bytes | None) -> str:
        problems = Problems()
        text = decode_text(self.name_of(file), content or b"", problems)
        if text is None:
            first = problems.collected[0]
            raise RequestError(422, first.wrong, first.right, problems=problems_json(problems.collected))
        return text

    def current(self, text: str, edit: AnswerFinding) -> Any:
        try:
            value = value_at(self.parted(text)[1], (KEY, edit.finding))
        except UneditableError as error:
            raise _by_hand(error) from error
        return None if value is ABSENT else value

    def written(self, text: str, edit: AnswerFinding) -> str:
        before, yaml, after = self.parted(text)
        to = ABSENT if edit.to is None else edit.to
        try:
            return f"{before}{edited(yaml, (KEY, edit.finding), to, blocks=1)}{after}"
        except UneditableError as error:
            raise _by_hand(error) from error


class _StillCardCodec(_TextCodec):
    """The same on the card of a picture, which is YAML throughout."""

    def parted(self, text: str) -> tuple[str, str, str]:
        return "", text, ""


def _by_hand(error: UneditableError) -> RequestError:
    return RequestError(422, f"the file cannot be changed: {error}", "write the answer by hand")
