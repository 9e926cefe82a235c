"""Products serialised to bytes and read back safely.

Pickles can run whatever they name. A cache may have come along with a site that somebody sent, so the only
things that are found by name here are records and models of the program, and a few plain types.
"""

from __future__ import annotations

import gc
import importlib
import io
import pickle
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import is_dataclass
from functools import cache
from typing import IO, Any

_PLAIN = {
    ("builtins", "frozenset"),
    ("builtins", "set"),
    ("datetime", "date"),
    ("datetime", "datetime"),
    ("fractions", "Fraction"),
}
_OURS = "lessonpress."


def packed(value: object) -> bytes:
    return pickle.dumps(value, protocol=5)


def unpacked(content: bytes) -> Any:
    """Raises ValueError for what was not packed by `packed`."""
    return _next(io.BytesIO(content))


def each_unpacked(content: bytes) -> Iterator[Any]:
    """What lies there packed one after another. Raises ValueError where something else does."""
    file = io.BytesIO(content)
    while file.tell() < len(content):
        yield _next(file)


def _next(file: IO[bytes]) -> Any:
    try:
        with nothing_collected():
            return _Opener(file).load()
    except Exception as fault:  # a pickle that is none fails in every way there is
        raise ValueError(f"this is no product: {fault}") from fault


@contextmanager
def nothing_collected() -> Iterator[None]:
    """Where many objects are made in a row, looking through them for garbage takes as long as making them."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


class _Opener(pickle.Unpickler):
    def find_class(self, module: str, name: str) -> Any:
        return _class_named(module, name)


@cache
def _class_named(module: str, name: str) -> Any:
    """Raises UnpicklingError for what is no record, model or plain type."""
    if (module, name) in _PLAIN:
        return getattr(importlib.import_module(module), name)
    if module.startswith(_OURS):
        kind = getattr(importlib.import_module(module), name, None)
        model = isinstance(kind, type) and hasattr(kind, "__pydantic_private__")
        named = isinstance(kind, type) and issubclass(kind, tuple)
        if isinstance(kind, type) and kind.__module__ == module and (is_dataclass(kind) or model or named):
            return kind
    raise pickle.UnpicklingError(f"{module}.{name} is no part of a product")
