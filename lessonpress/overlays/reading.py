"""An overlay as written → its kind and typed fields; a list of overlays with its sets written out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from lessonpress import manuscript as nodes
from lessonpress.manuscript import read_fields
from lessonpress.overlays.kind import OverlayKind, measures
from lessonpress.overlays.kinds.table import KINDS
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.shape_of_marks import check_marks
from lessonpress.records import Problems, nearest


def read_overlay(node: nodes.Node, problems: Problems) -> tuple[OverlayKind, OverlayFields] | None:
    """The kind and fields of one entry of `draw`; None once its mistakes are reported.

    The key that names the kind comes first. A kind that takes no marks may be alone, as a word: `- grid`.
    """
    entry = _as_mapping(node)
    if entry is None or not entry.entries:
        problems.error(
            node.location, "an overlay is a kind with its marks", "write it as `- vertical: navel`"
        )
        return None
    kind = _kind_of(entry, problems)
    if kind is None or not check_marks(kind, entry, problems):
        return None
    _check_keys(kind, entry, problems)
    fields = read_fields(kind.Fields, entry, problems)
    return None if fields is None else (kind, fields)


@dataclass(frozen=True)
class Sets:
    """The sets of site.yaml by name. faulty: whether a mistake has lost the set of a name, or all of them."""

    by_name: Mapping[str, Sequence[nodes.Node]]
    faulty: Callable[[str], bool] = lambda name: False


def expand(
    entries: Iterable[nodes.Node], sets: Sets, problems: Problems
) -> tuple[tuple[nodes.Node, ...], tuple[nodes.Node, ...]]:
    """The overlays of a `draw` list, those of a set in the place of its `- use: NAME`; sets may use sets.

    With them the entries whose set is not to be had, for a mistake that has been reported.
    """
    without: list[nodes.Node] = []
    return tuple(_expanded(entries, sets, problems, without, ())), tuple(without)


def _expanded(
    entries: Iterable[nodes.Node],
    sets: Sets,
    problems: Problems,
    without: list[nodes.Node],
    inside: tuple[str, ...],
) -> Iterator[nodes.Node]:
    for entry in entries:
        if not (isinstance(entry, nodes.Mapping) and "use" in entry.keys):
            yield entry
            continue
        name = _set_name(entry, sets, problems)
        if name is None:
            without.append(entry)
            continue
        if name in inside:
            wrong = f"the set `{name}` draws itself"
            problems.error(entry.location_of("use"), wrong, "take `use` out of the set that began it")
            continue
        yield from _expanded(sets.by_name[name], sets, problems, without, (*inside, name))


def _set_name(entry: nodes.Mapping, sets: Sets, problems: Problems) -> str | None:
    """The set an entry uses; None once it is reported as faulty, as unknown or as mixed with other keys."""
    if len(entry.entries) > 1:
        other = next(key for key, _ in entry.entries if key.written != "use")
        wrong = f"`{other.written}` is beside `use`"
        problems.error(
            other.location, wrong, "write `- use: NAME` alone; change the overlays in the set itself"
        )
        return None
    value = entry.get("use")
    name = value.written if isinstance(value, nodes.Scalar) else ""
    if name in sets.by_name:
        return name
    if name and sets.faulty(name):
        return None
    wrong = f"there is no set of overlays named `{name}`" if name else "`use` takes the name of one set"
    right = "sets are written in site.yaml under `sets`"
    problems.error(entry.location_of("use"), wrong, right, nearest=nearest(name, sets.by_name))
    return None


def _as_mapping(node: nodes.Node) -> nodes.Mapping | None:
    if isinstance(node, nodes.Mapping):
        return node
    if not isinstance(node, nodes.Scalar) or not node.written:
        return None
    return nodes.Mapping(node.location, ((node, nodes.Scalar(node.location, None, "")),))


def _kind_of(entry: nodes.Mapping, problems: Problems) -> OverlayKind | None:
    """The kind named by the first key; None once reported."""
    first = entry.entries[0][0]
    named = [key for key, _ in entry.entries if key.written in KINDS]
    if not named:
        near = nearest(first.written, KINDS)
        right = "" if near else f"a kind is one of {', '.join(KINDS)}"
        problems.error(first.location, f"`{first.written}` is not a kind of overlay", right, nearest=near)
        return None
    if named[0] is not first:
        wrong = f"`{named[0].written}` names the kind but does not come first"
        problems.error(named[0].location, wrong, f"begin the overlay with `{named[0].written}`")
        return None
    if len(named) > 1:
        wrong = f"`{named[1].written}` is a second kind in one overlay"
        problems.error(named[1].location, wrong, "begin a new entry with `- `")
        return None
    return KINDS[first.written]


def _check_keys(kind: OverlayKind, entry: nodes.Mapping, problems: Problems) -> None:
    """Keys that all kinds know and this one has no use for."""
    useless = {
        "as": None if measures(kind) else "measures nothing that `as` could name",
        "expect": None if measures(kind) else "measures nothing to expect",
        "placed": None if kind.Fields.PLACED else "cannot be placed at another instant",
    }
    for key, words in useless.items():
        if words is not None and key in entry.keys:
            problems.error(entry.key_location(key), f"`{kind.KIND}` {words}", f"leave `{key}` out")
