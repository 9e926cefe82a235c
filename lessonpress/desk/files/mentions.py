"""Where lessons name a clip or another lesson, and their texts with another name there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lessonpress.desk.http.responses import RequestError
from lessonpress.manuscript import Lesson, Mapping, Node, Scalar, Sequence, clips_named, written
from lessonpress.records import Location


@dataclass(frozen=True)
class Mention:
    """A place that ends with a name: the name itself, `lean.dune`, or `{lean.dune`."""

    location: Location
    written: str


def clip_mentions(lesson: Lesson, clip: str) -> tuple[Mention, ...]:
    """Where a lesson names a clip: as its own, in figures, in the ids of numbers followed over clips."""
    found = [Mention(lesson.location_of("clip"), clip)] if lesson.clip == clip else []
    if (lesson.front.measure or "").endswith(f".{clip}"):
        found.append(Mention(lesson.location_of("measure"), lesson.front.measure or ""))
    followed = False
    for block in lesson.blocks:
        found += [Mention(one.location, clip) for one in _values(block.node, ("clip", "clips"), clip)]
        found += [Mention(one.location, one.written) for one in _ending(block.node, clip)]
        followed |= any(True for _ in _values(block.node, ("clips",), clip))
    if followed:
        braces = [one for one in lesson.references if one.where != "lists"]  # that is front matter's
        found += [Mention(one.location, f"{{{one.id}") for one in braces if one.id.endswith(f".{clip}")]
    return tuple(dict.fromkeys(found))


def lesson_mentions(lesson: Lesson, name: str) -> tuple[Mention, ...]:
    """Where a lesson follows a number over another one."""
    places = [one.location for block in lesson.blocks for one in _values(block.node, ("over",), name)]
    return tuple(Mention(place, name) for place in places)


def names_clip(lesson: Lesson, clip: str) -> bool:
    return lesson.clip == clip or clip in clips_named(lesson)


def _values(node: Node | None, keys: tuple[str, ...], name: str) -> Iterator[Scalar]:
    """The scalars under one of the keys, wherever in a block, that are the name."""
    if isinstance(node, Sequence):
        for item in node.items:
            yield from _values(item, keys, name)
    elif isinstance(node, Mapping):
        for key, value in node.entries:
            if key.written in keys:
                items = value.items if isinstance(value, Sequence) else (value,)
                yield from (one for one in items if isinstance(one, Scalar) and one.written == name)
            else:
                yield from _values(value, keys, name)


def _ending(node: Node | None, clip: str) -> Iterator[Scalar]:
    """The number of a chart over lessons that each follow it over clips."""
    measure = node.get("measure") if isinstance(node, Mapping) else None
    if isinstance(measure, Scalar) and measure.written.endswith(f".{clip}"):
        yield measure


def renamed(text: str, mentions: Iterable[Mention], old: str, new: str) -> str:
    """A text with another name at these places. Raises RequestError where one cannot be changed."""
    lines = text.split("\n")
    for one in sorted(mentions, key=lambda mention: mention.location, reverse=True):
        line, at = lines[one.location.line - 1], one.location.column - 1
        found = re.compile(rf"([\"']?){re.escape(one.written)}(?![\w.-])").match(line, at)
        if found is None:
            raise RequestError(
                422, f"{one.location} names `{old}` in a way that no machine can change", "change it by hand"
            )
        plain = one.written == old and not found[1]
        put = written(new) if plain else one.written.removesuffix(old) + new
        lines[one.location.line - 1] = line[:at] + found[1] + put + line[found.end() :]
    return "\n".join(lines)
