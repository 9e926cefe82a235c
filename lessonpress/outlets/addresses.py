"""Where a file of the site will be found on the web."""

from __future__ import annotations

from urllib.parse import quote

from lessonpress.manuscript import Site


def address(site: Site, path: str) -> str:
    """The absolute address of a path from the site's root; a folder's index.html is left to the host.

    site.url must be set: a site without one has no addresses.
    """
    folder = path.removesuffix("index.html") if path == "index.html" or path.endswith("/index.html") else path
    return f"{str(site.url).rstrip('/')}/{quote(folder)}"
