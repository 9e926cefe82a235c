"""Files made smaller beforehand, for hosts that send them so: `.gz` (RFC 1952) and `.br` (RFC 7932).

The same content gives the same bytes: no name and no time is written into them.
"""

from __future__ import annotations

import importlib.util
import io

from lessonpress.records import UsageError

WORTH_IT = (".html", ".htm", ".css", ".js", ".json", ".jsonl", ".csv", ".xml", ".svg", ".txt")
LIBRARIES = ("python", "brotli")


def check_brotli() -> None:
    """Raises UsageError where the library for `.br` is not installed."""
    if importlib.util.find_spec("brotli") is None:
        raise UsageError(
            "`--compressed` needs the library brotli; `pip install 'lessonpress[compressed]'` installs it"
        )


def compressed(content: bytes) -> dict[str, bytes]:
    """By suffix the compressed forms of a file, those that are smaller than it."""
    import brotli

    made = {".gz": _gzip(content), ".br": brotli.compress(content, quality=11)}
    return {suffix: small for suffix, small in made.items() if len(small) < len(content)}


def _gzip(content: bytes) -> bytes:
    import gzip

    written = io.BytesIO()
    with gzip.GzipFile(filename="", mode="wb", compresslevel=9, fileobj=written, mtime=0) as file:
        file.write(content)
    return written.getvalue()
