"""The hash of a product by what it says: equal for two that were made apart and say the same.

Pickles will not do for that: they write out how parts are shared, and sets in the order of the moment.
"""

from __future__ import annotations

import struct
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date
from fractions import Fraction
from hashlib import sha256
from typing import Any

_Known = dict[int, bytes]  # by id, of records
_Saying = Callable[[Any, _Known], bytes]


def digest(value: object) -> str:
    """SHA-256 in hex. Raises TypeError for what is no record, model, text, number, day or collection."""
    return sha256(_said(value, {})).hexdigest()


def _said(value: Any, known: _Known) -> bytes:
    """What `value` says, without a doubt where one part ends and another begins."""
    kind = type(value)
    return (_SAYING.get(kind) or _saying(kind))(value, known)


def _saying(kind: type[Any]) -> _Saying:
    """How values of a type that is met for the first time are said."""
    like = next((known for known in (tuple, list, dict, set, frozenset) if issubclass(kind, known)), None)
    _SAYING[kind] = _SAYING[like] if like is not None else _record(kind)
    return _SAYING[kind]


def _record(kind: type[Any]) -> _Saying:
    name = _text(f"{kind.__module__}.{kind.__qualname__}", {})
    if is_dataclass(kind):
        names = tuple(one.name for one in fields(kind))
    elif hasattr(kind, "__pydantic_private__"):
        names = ("__dict__", "__pydantic_private__")
    else:
        raise TypeError(f"a product holds a {kind.__name__}, whose content cannot be hashed")

    def said(value: Any, known: _Known) -> bytes:
        found = known.get(id(value))
        if found is None:
            parts = b"".join([_said(getattr(value, one), known) for one in names])
            found = known[id(value)] = b"@" + sha256(name + parts).digest()
        return found

    return said


def _row(value: tuple[Any, ...] | list[Any], known: _Known) -> bytes:
    return b"(%d:%s" % (len(value), b"".join([_said(one, known) for one in value]))


def _pairs(value: dict[Any, Any], known: _Known) -> bytes:
    pairs = [_said(key, known) + _said(one, known) for key, one in value.items()]
    return b"{%d:%s" % (len(pairs), b"".join(pairs))


def _set(value: set[Any] | frozenset[Any], known: _Known) -> bytes:
    return b"<%d:%s" % (len(value), b"".join(sorted([_said(one, known) for one in value])))


def _text(value: str, _: _Known) -> bytes:
    written = value.encode("utf-8", "surrogatepass")
    return b"s%d:%s" % (len(written), written)


_SAYING: dict[type, _Saying] = {
    str: _text,
    bytes: lambda value, _: b"b%d:%s" % (len(value), value),
    bool: lambda value, _: b"T" if value else b"F",
    int: lambda value, _: b"i%d;" % value,
    float: lambda value, _: b"f" + struct.pack(">d", value),
    type(None): lambda value, _: b"N",
    date: lambda value, _: b"d" + value.isoformat().encode(),
    Fraction: lambda value, _: b"q" + str(value).encode() + b";",
    tuple: _row,
    list: _row,
    dict: _pairs,
    set: _set,
    frozenset: _set,
}
