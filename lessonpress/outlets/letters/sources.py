"""Where a letter's pictures come from: the site's address, the letter itself, or files beside it."""

from __future__ import annotations

from collections.abc import Callable

from lessonpress.manuscript import Site
from lessonpress.outlets.addresses import address

Source = Callable[[str], str]  # path of a picture in the site → what the letter's HTML says of it
FOLDER = "pictures"  # of files beside the letter


def hosted(site: Site) -> Source:
    """By their addresses on the web. site.url must be set."""
    return lambda path: address(site, path)


def beside(path: str) -> str:
    """In the letter's own folder, called by the whole path: two lessons may have pictures of one name."""
    return f"{FOLDER}/{path.partition('/')[2].replace('/', '.')}"


def content_id(path: str, site: Site) -> str:
    """What an attached picture is called in the message, without its brackets (RFC 2392).

    It is the same in every letter: what is the same may be kept by the program that reads it.
    """
    host = (site.url or "").partition("://")[2].partition("/")[0].partition(":")[0] or "letter.invalid"
    return f"{beside(path).removeprefix(FOLDER + '/')}@{host}"


def attached(site: Site) -> Source:
    """By their names in the message."""
    return lambda path: f"cid:{content_id(path, site)}"
