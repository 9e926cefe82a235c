"""The hash of a product by what it says: equal for two that were made apart and say the same.

Pickles will not do for that: they write out how parts are shared, and sets in the order of the moment.
"""

from __future__ import annotations

import struct
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from fractions import Fraction
from hashlib import sha256
from typing import Any


def digest(value: object) -> str:
    """SHA-256 in hex. Raises TypeError for what is no record, model, text, number, day or collection."""
    return sha256(_said(value, {})).hexdigest()


def _said(value: Any, known: dict[int, bytes]) -> bytes:
    """What `value` says, without a doubt where one part ends and another begins. known: by id, of records."""
    plain = _PLAIN.get(type(value))
    if plain is not None:
        return plain(value)
    if isinstance(value, tuple | list):
        return b"(%d:%s" % (len(value), b"".join([_said(one, known) for one in value]))
    if isinstance(value, dict):
        pairs = [_said(key, known) + _said(one, known) for key, one in value.items()]
        return b"{%d:%s" % (len(pairs), b"".join(pairs))
    if isinstance(value, set | frozenset):
        return b"<%d:%s" % (len(value), b"".join(sorted(_said(one, known) for one in value)))
    known_digest = known.get(id(value))
    if known_digest is None:
        parts = [_said(part, known) for part in _parts(value)]
        name = f"{type(value).__module__}.{type(value).__qualname__}"
        known_digest = known[id(value)] = b"@" + sha256(_text(name) + b"".join(parts)).digest()
    return known_digest


def _parts(value: Any) -> Iterator[Any]:
    if is_dataclass(value):
        kind: type[Any] = type(value)
        yield from [getattr(value, name) for name in _names(kind)]
    elif hasattr(value, "__pydantic_private__"):
        yield value.__dict__
        yield value.__pydantic_private__
    else:
        raise TypeError(f"a product holds a {type(value).__name__}, whose content cannot be hashed")


def _names(kind: type[Any]) -> tuple[str, ...]:
    names = _FIELDS.get(kind)
    if names is None:
        names = _FIELDS[kind] = tuple(one.name for one in fields(kind))
    return names


_FIELDS: dict[type[Any], tuple[str, ...]] = {}


def _text(value: str) -> bytes:
    written = value.encode("utf-8", "surrogatepass")
    return b"s%d:%s" % (len(written), written)


_PLAIN: dict[type, Callable[[Any], bytes]] = {
    str: _text,
    bytes: lambda value: b"b%d:%s" % (len(value), value),
    bool: lambda value: b"T" if value else b"F",
    int: lambda value: b"i%d;" % value,
    float: lambda value: b"f" + struct.pack(">d", value),
    type(None): lambda value: b"N",
    date: lambda value: b"d" + value.isoformat().encode(),
    Fraction: lambda value: b"q" + str(value).encode() + b";",
}
