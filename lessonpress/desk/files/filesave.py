"""How a page changes a file of an author's: edits put in, collisions asked about, the file saved whole.

An edit says what was at a place, `was`, and what is to be there, `to`. Where the file on disk has neither,
another program changed that place meanwhile: the edit collides, and nothing is written until the author has
chosen. What changed elsewhere in the file is kept.

What a kind of file has of its own is its codec:

| codec | file | an edit is of |
|---|---|---|
| `marksfile` | clips/CLIP/marks.yaml | a mark's placing on a frame |
| `cardfile` | clips/CLIP/clip.yaml | a value of the card |
| `tracksfile` | clips/CLIP/tracks.csv | a mark's rows over some frames |
| `lessonfile` | lessons/NAME.md | the whole text, merged by lines where it collides |
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Generic, Protocol, Self, TypeVar

from lessonpress.desk.files.versions import bytes_of, encoded_like, version_of
from lessonpress.desk.http.responses import RequestError, problems_json
from lessonpress.disk import write_atomically
from lessonpress.manuscript import Passage, decode_text, file_passage
from lessonpress.press import keep_save
from lessonpress.records import Problems

Json = Mapping[str, Any]


class AnyEdit(Protocol):
    """A model of `requests` with `was` and `to`."""

    @property
    def was(self) -> Any: ...
    @property
    def to(self) -> Any: ...
    def model_dump(self) -> dict[str, Any]: ...
    def model_copy(self, *, update: Json | None = None) -> Self: ...


E = TypeVar("E", bound=AnyEdit)


@dataclass(frozen=True)
class Collision:
    """An edit that collides, as the pages learn of it. places: where, each with what is on `disk`.

    more: further keys of the refusal.
    """

    places: tuple[Json, ...]
    more: Json = field(default_factory=dict)


class Codec(ABC, Generic[E]):
    """A kind of file. Each method may raise RequestError (422)."""

    def name_of(self, file: Path) -> str:
        """What the file is called to the author."""
        return file.name

    @abstractmethod
    def opened(self, file: Path, content: bytes | None) -> str:
        """The text to be edited; None: there is no file. Refuses one that may not be written into."""

    @abstractmethod
    def current(self, text: str, edit: E) -> Any:
        """What is at the edit's place, as `was` and `to` say it."""

    @abstractmethod
    def written(self, text: str, edit: E) -> str:
        """The text with the edit in it."""

    def same(self, one: Any, other: Any) -> bool:
        """Whether two values of a place are the same."""
        return bool(one == other)

    def merged(self, edit: E, disk: Any) -> E | Collision:
        """An edit of which `disk` is neither `was` nor `to`, brought together with it, or its collision."""
        return Collision(({**edit.model_dump(), "disk": disk},))

    def check(self, file: Path, before: str, after: str) -> None:
        """Refuses a text that the edits have made unsound."""

    def encoded(self, before: bytes | None, text: str) -> bytes:
        """What the file is to hold. before: what it held."""
        return encoded_like(before, text)


@dataclass(frozen=True)
class Saved(Generic[E]):
    """What a save did. merged: the file had changed since the version that the page had.

    edits: as done, with what was there indeed: turned round they undo.
    """

    text: str
    version: str
    merged: bool
    edits: tuple[E, ...]

    def json(self) -> dict[str, Any]:
        edits = [edit.model_dump() for edit in self.edits]
        return {"version": self.version, "merged": self.merged, "edits": edits}


def save(
    codec: Codec[E], file: Path, edits: Iterable[E], known: str | None = None, *, anyway: bool = False
) -> Saved[E]:
    """Writes the edits into the file, all or none. known: the version that the page had.

    Raises RequestError: 409 where edits collide with what is on disk, 422 where the file may not be written
    into or an edit cannot be made. Raises OSError where the disk fails.
    """
    content = bytes_of(file)
    before = text = codec.opened(file, content)
    collisions: list[Collision] = []
    done: list[E] = []
    for edit in edits:
        disk = codec.current(text, edit)
        made: E | Collision = edit
        if not (anyway or codec.same(disk, edit.was) or codec.same(disk, edit.to)):
            made = codec.merged(edit, disk)
        if isinstance(made, Collision):
            collisions.append(made)
            continue
        if not codec.same(disk, made.to):
            text = codec.written(text, made)
        done.append(made.model_copy(update={"was": disk}))
    if collisions:
        raise _refusal(codec.name_of(file), version_of(content), collisions)
    codec.check(file, before, text)
    new = codec.encoded(content, text)
    if new != (content or b""):
        keep_save(file, content)
        write_atomically(file, new)
    return Saved(text, version_of(new), known is not None and known != version_of(content), tuple(done))


def _refusal(name: str, version: str, collisions: Iterable[Collision]) -> RequestError:
    more: dict[str, Any] = {"collisions": [], "version": version}
    for one in collisions:
        more["collisions"] += one.places
        more |= one.more
    return RequestError(
        409, f"{name} was changed meanwhile, just where you changed it", "look at both, then keep one", **more
    )


# what codecs of a clip's files have in common


def path_of(file: Path) -> str:
    """A clip's file, by its path in the site."""
    return f"clips/{file.parent.name}/{file.name}"


def passage_of(file: Path, content: bytes | None, problems: Problems) -> Passage | None:
    """The file's text for a reader; None where there is none, or once it is reported why."""
    text = None if content is None else decode_text(path_of(file), content, problems)
    return None if text is None else file_passage(path_of(file), text)


def sound_text(file: Path, content: bytes | None, read: Callable[[Passage, Problems], object]) -> str:
    """The text of a file, "" of none. Refuses one that has mistakes: its author is at it.

    read: the reader that finds them.
    """
    problems = Problems()
    passage = passage_of(file, content, problems)
    if passage is not None:
        read(passage, problems)
    if problems.errors:
        raise RequestError(
            422,
            f"{path_of(file)} has mistakes, so nothing is written into it",
            "correct it by hand first",
            problems=problems_json(problems.in_order()),
        )
    return passage.text if passage else ""
