"""The base class of every model read from YAML nodes, and the function that reads one.

`read(Model, node, problems)` validates a mapping against a pydantic model and reports each mistake at the
key or value it lies in, in the program's own words (complaints.py). What can be kept is kept: a mistake
costs the innermost key round it that may be left out, so that the rest of the file is still checked in the
same run, and what is said of a mapping once a key of it is lost is taken for a consequence and not reported.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from collections.abc import Mapping as MappingOf
from typing import Any, Self, TypeVar

from pydantic import (
    BaseModel,
    ConfigDict,
    ModelWrapValidatorHandler,
    PrivateAttr,
    ValidationError,
    model_validator,
)

from lessonpress.manuscript.fields.complaints import Complaint, cases_of, complaints, meant
from lessonpress.manuscript.fields.names import plain_name
from lessonpress.manuscript.yaml.nodes import Mapping, Node, Scalar, Sequence
from lessonpress.records import Location, Problems

Path = tuple[str | int, ...]


class Written(BaseModel):
    """A mapping that an author wrote, typed. Unknown keys are mistakes; numbers pass for text."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        arbitrary_types_allowed=True,
        coerce_numbers_to_str=True,
        allow_inf_nan=False,
        regex_engine="python-re",
    )
    _node: Mapping | None = PrivateAttr(default=None)
    _lost: frozenset[Path] = PrivateAttr(default=frozenset())

    @property
    def node(self) -> Mapping | None:
        """What it was read from; None for a thing made by the program."""
        return self._node

    def location_of(self, *loc: str | int) -> Location:
        """The location of the value at a path of keys and indices, or of the deepest on that path."""
        return self._node.location_of(*loc) if self._node else Location("")

    def key_location(self, key: str) -> Location:
        """Where a key is written; the mapping's own location where it is not written."""
        return self._node.key_location(key) if self._node else Location("")

    def lost(self, *path: str) -> bool:
        """Whether a mistake left out the value at a path of keys or one above it, or misspelt such a key."""
        return is_lost(path, self._lost)

    @property
    def lost_paths(self) -> frozenset[Path]:
        """The paths of keys whose values a mistake left out, and those that were misspelt."""
        return self._lost

    @property
    def lost_keys(self) -> frozenset[str]:
        """The outermost keys that a mistake left out, or left out a part of, or misspelt."""
        return frozenset(str(path[0]) for path in self._lost)

    def __eq__(self, other: object) -> bool:
        """Alike in what is said, wherever it was written."""
        return type(self) is type(other) and self.__dict__ == other.__dict__

    def __hash__(self) -> int:
        plain = (value for value in self.__dict__.values() if isinstance(value, str | float | None))
        return hash((type(self), *plain))

    @model_validator(mode="wrap")
    @classmethod
    def _keep_the_node(cls, data: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        if isinstance(data, LocatedDict):
            data.model = cls
        made = handler(data)
        if isinstance(data, LocatedDict):
            made._node = data.node
        return made


def is_lost(path: Path, lost: Iterable[Path]) -> bool:
    """Whether a path, or one above it, is among the lost ones."""
    asked = tuple(plain_name(str(key)) for key in path)
    return any(asked[: len(gone)] == tuple(plain_name(str(key)) for key in gone) for gone in lost)


W = TypeVar("W", bound=Written)


def read_fields(
    model: type[W], node: Node | None, problems: Problems, stand_ins: MappingOf[str, Any] | None = None
) -> W | None:
    """`node` as the model says, every mistake reported; None where what remains does not make one.

    None for a node that is None: its mistake has been reported already.
    stand_ins: by required key, what to go on reading with where its value is wrong or missing.
    """
    if node is None:
        return None
    if not isinstance(node, Mapping):
        empty = isinstance(node, Scalar) and node.value is None
        wrong = "nothing is written here" if empty else "`key: value` lines are expected here"
        due = [key for key in keys_of(model) if key in required(model)] or keys_of(model)
        problems.error(node.location, wrong, f"begin with {', '.join(f'`{key}: …`' for key in due)}")
        return None
    stand_ins = stand_ins or {}
    lost: set[Path] = set()
    misspelt: set[Path] = set()
    reported: set[Complaint] = set()
    while True:
        data = located(node, lost)
        for key, *inner in lost:
            if not inner and key in stand_ins:
                data[str(key)] = stand_ins[str(key)]
        try:
            made = model.model_validate(data)
            made._lost = frozenset(lost | misspelt)
            return made
        except ValidationError as broken:
            cases = cases_of(broken.errors(include_url=False), data)
        misspelt |= {(*case.path[:-1], near) for case in cases for near in meant(case)}
        _report(
            complaints([case for case in cases if not _follows(case.path, lost)], data), reported, problems
        )
        costs = {_cost(case.path, data, stand_ins) for case in cases}
        if None in costs or costs <= lost:
            return None
        lost |= {cost for cost in costs if cost is not None}


def _follows(path: Path, lost: set[Path]) -> bool:
    """Whether a mistake lies in a mapping that has lost a key, and so may only follow from that."""
    return any(gone[: len(path)] == path for gone in lost)


def _cost(path: Path, data: LocatedDict, stand_ins: MappingOf[str, Any]) -> Path | None:
    """The innermost key above a mistake that may be left out; None where the whole is lost."""
    cost: Path | None = None
    here: Any = data
    for depth, part in enumerate(path):
        if not isinstance(part, str) or not isinstance(here, LocatedDict):
            break
        due = required(here.model) if here.model else set()
        if part not in due or (depth == 0 and part in stand_ins):
            cost = path[: depth + 1]
        here = here.get(part)
    return cost


def _report(complaints: list[Complaint], reported: set[Complaint], problems: Problems) -> None:
    for complaint in complaints:
        if complaint not in reported:
            reported.add(complaint)
            problems.error(complaint.location, complaint.wrong, complaint.right, nearest=complaint.nearest)


def keys_of(model: type[BaseModel]) -> tuple[str, ...]:
    """The keys a model takes, as an author writes them."""
    return tuple(field.alias or name for name, field in model.model_fields.items())


def required(model: type[BaseModel]) -> set[str]:
    return {field.alias or name for name, field in model.model_fields.items() if field.is_required()}


class LocatedStr(str):
    node: Scalar


class LocatedInt(int):
    node: Scalar

    def __str__(self) -> str:
        return self.node.written


class LocatedFloat(float):
    node: Scalar

    def __str__(self) -> str:
        return self.node.written


class LocatedList(list[Any]):
    node: Sequence


class LocatedDict(dict[str, Any]):
    """model: the one that last tried to read it."""

    node: Mapping
    model: type[BaseModel] | None = None


_SCALARS: dict[type, Any] = {str: LocatedStr, int: LocatedInt, float: LocatedFloat}


def located(node: Node, without: Collection[Path] = (), path: Path = ()) -> Any:
    """A node's plain value in which text, numbers, lists and mappings still carry their node.

    without: the paths of keys that are left out.
    """
    made: Any
    if isinstance(node, Mapping):
        made = LocatedDict(
            {
                key.written: located(value, without, (*path, key.written))
                for key, value in node.entries
                if (*path, key.written) not in without
            }
        )
    elif isinstance(node, Sequence):
        made = LocatedList(located(item, without, (*path, at)) for at, item in enumerate(node.items))
    else:
        kind = _SCALARS.get(type(node.value))
        if kind is None:
            return node.value
        made = kind(node.value)
    made.node = node
    return made


def node_of(value: object) -> Node | None:
    """The node that a value passed to a validator came from, if it came from one."""
    node: Node | None = getattr(value, "node", None)
    return node
