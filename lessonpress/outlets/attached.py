"""The files that lessons and pages link to, as they are."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.manuscript.site import Site
from lessonpress.pages import links


def attached(site: Site) -> Iterator[tuple[str, bytes]]:
    """(path from the output folder, content). Raises OSError where one has gone since the site was read."""
    for path in site.files:
        yield links.attached(path), (site.root / path).read_bytes()
