"""A link of a pressed page that leads to no page, file or place of the site, or to a place-holder.

Links between Markdown files are checked when they are read; here is what comes out, fragments included. No
other host is asked whether it answers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import PressedSubject

NAME = "dead-link"
SEVERITY: Severity = "warning"
LOOKS_AT: LooksAt = "pressed"

_MOST = 100  # findings of one page
_LINK = re.compile(r'\s(?:href|src)="([^"]*)"')
_PLACE_HOLDER = re.compile(
    r"(?:^|\.)(?:example|invalid|localhost|test)$|^(?:127\.|example\.(?:com|org|net)$)"
)


def find(subject: PressedSubject) -> Iterator[Finding]:
    for page in subject.pages:
        if page not in subject.sources:
            continue  # what lists lessons is made of their addresses
        yield from islice(_of_page(page, subject), _MOST)


def _of_page(page: str, subject: PressedSubject) -> Iterator[Finding]:
    for href in dict.fromkeys(_LINK.findall(subject.pages[page])):
        wrong, right = _fault(page, href.replace("&amp;", "&"), subject)
        if wrong:
            location = subject.written_at(page, href)
            yield Finding(NAME, SEVERITY, location, wrong, right, f"{href} {location.source}")


def _fault(page: str, href: str, subject: PressedSubject) -> tuple[str, str]:
    """What is wrong with a link, and what would be right; "" twice for a sound one."""
    try:
        parts = urlsplit(href)
    except ValueError:
        return f"`{href}` is no address", "write it anew"
    if parts.scheme == "file":
        return f"`{href}` leads to a file of this machine", "put the file into the site and link to it there"
    if parts.netloc:
        host = (parts.hostname or "").lower()
        if _PLACE_HOLDER.search(host) and not subject.is_own(host):
            return f"`{href}` is a place-holder's address", "write the real one"
        return "", ""
    if parts.scheme:
        return "", ""
    path = normpath(join(dirname(page), unquote(parts.path))) if parts.path else page
    if path not in subject.sizes and f"{path}/index.html" not in subject.sizes:
        return f"`{href}` leads to no page or file of the site", "correct it, or take it out"
    fragment = unquote(parts.fragment)
    if fragment and path in subject.pages and fragment not in subject.ids(path):
        return f"`#{fragment}` is nowhere on the page that this leads to", "link to the page, or to a plate"
    return "", ""
