"""Templates compiled once in a process: an own theme is compiled to be checked, then to print with.

Kept in memory alone: code that lay in a site's folder could be changed there by others.
"""

from __future__ import annotations

from types import CodeType

from jinja2.bccache import Bucket, BytecodeCache

_MOST = 1000  # templates; a theme has some fifty


class Compiled(BytecodeCache):
    """By a template's name and file the checksum of its text and its code, of sandboxes made alike."""

    def __init__(self) -> None:
        self._kept: dict[str, tuple[str, CodeType]] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        checksum, code = self._kept.get(bucket.key, ("", None))
        if checksum == bucket.checksum:
            bucket.code = code

    def dump_bytecode(self, bucket: Bucket) -> None:
        if len(self._kept) >= _MOST:
            self._kept.clear()
        if bucket.code is not None:
            self._kept[bucket.key] = (bucket.checksum, bucket.code)


COMPILED = Compiled()
