"""Each validation error of pydantic's, at the author's own key or value, in the program's own words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic_core import ErrorDetails

from lessonpress.manuscript.fields.wording import Case, unknown_key, words_for
from lessonpress.manuscript.yaml.nodes import Mapping, Node
from lessonpress.records import Location


@dataclass(frozen=True)
class Complaint:
    """A mistake with its location and the words for it."""

    location: Location
    wrong: str
    right: str
    nearest: tuple[str, ...]


def cases_of(errors: Sequence[ErrorDetails], data: Any) -> list[Case]:
    """The errors of a model that was given `data`, a PlacedDict, each with what it is about."""
    return [_case(error, data) for error in errors]


def complaints(cases: Sequence[Case], data: Any) -> list[Complaint]:
    """The complaints for errors of a model that was given `data`, a PlacedDict.

    A missing key is not reported where a misspelt one is in its place, nor is a list said to be too short
    that has only lost the entries that are reported.
    """
    misspelt = {(id(case.holder), near) for case in cases for near in meant(case)}
    kept = [
        case
        for case in cases
        if not _short_of_faulty_entries(case, cases)
        and (case.error["type"] != "missing" or (id(case.holder), case.name) not in misspelt)
    ]
    return [_complaint(case, data.node) for case in kept]


def _case(error: ErrorDetails, data: Any) -> Case:
    path, holder = _walk(data, error["loc"])
    name = next((str(part) for part in reversed(path) if isinstance(part, str)), "")
    return Case(error, path, name, holder)


def _short_of_faulty_entries(case: Case, cases: Sequence[Case]) -> bool:
    """Whether a list is too short only because pydantic does not count the entries that are wrong."""
    if case.error["type"] != "too_short":
        return False
    depth = len(case.path)
    faulty = {
        other.path[depth] for other in cases if len(other.path) > depth and other.path[:depth] == case.path
    }
    return int(case.ctx["actual_length"]) + len(faulty) >= int(case.ctx["min_length"])


def meant(case: Case) -> tuple[str, ...]:
    """The key that an unknown one is likely a misspelling of, () for other mistakes."""
    return unknown_key(case)[2][:1] if case.error["type"] == "extra_forbidden" else ()


def _complaint(case: Case, root: Mapping) -> Complaint:
    wrong, right, near = words_for(case)
    loc = case.error["loc"]
    at_key = case.error["type"] == "extra_forbidden" or (loc[-1:] == ("[key]",) and len(case.path) < len(loc))
    location = _key_location(root, case.path) if at_key else root.location_of(*case.path)
    return Complaint(location, wrong, right, near)


def _walk(data: Any, loc: tuple[str | int, ...]) -> tuple[tuple[str | int, ...], Any]:
    """A path without pydantic's own marks (`[key]`, `<kind>`), and the mapping its last key belongs to."""
    path: list[str | int] = []
    here = holder = data
    for part in loc:
        if isinstance(part, str) and part[:1] in ("[", "<") and not (isinstance(here, dict) and part in here):
            continue
        path.append(part)
        holder = here if isinstance(part, str) and isinstance(here, dict) else holder
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            here = None
    return tuple(path), holder


def _key_location(root: Mapping, loc: tuple[str | int, ...]) -> Location:
    here: Node | None = root
    for part in loc[:-1]:
        here = _child(here, part)
    return here.key_location(loc[-1]) if isinstance(here, Mapping) else root.location_of(*loc)


def _child(node: Node | None, part: str | int) -> Node | None:
    if isinstance(node, Mapping):
        return node.get(part)
    items = getattr(node, "items", ())
    return items[part] if isinstance(part, int) and part < len(items) else None
