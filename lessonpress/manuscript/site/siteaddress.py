"""The address of a site, which comes before every path in feeds, maps and heads of pages.

It goes into attributes, XML and JSON, so only what RFC 3986 allows there unescaped is let through:
scheme, host (section 3.2.2: a name or IPv4 address), port and path, and neither user, query nor fragment.
"""

from __future__ import annotations

import re
from urllib.parse import unquote

from lessonpress.manuscript.fields.invalid_value import InvalidValueError

_LABEL = r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?"  # RFC 1035, section 2.3.4: up to 63 octets
_HOST = re.compile(rf"{_LABEL}(?:\.{_LABEL})*")
_PATH = re.compile(r"(?:/(?:[A-Za-z0-9._~!$&*+,;=:@-]|%[0-9A-Fa-f]{2})+)*/?")
_PARTS = re.compile(r"https?://(?P<host>[^/:?#]*)(?::(?P<port>[^/?#]*))?(?P<path>/.*)?", re.DOTALL)
_LONGEST = 500


def site_address(text: str) -> str:
    """The address as written. Raises InvalidValueError for what cannot be the address of a site."""
    example = "write it as `https://example.org/notes`"
    if "?" in text or "#" in text:
        raise InvalidValueError(f"`{text}` has a query or a fragment", f"{example}, without `?` and `#`")
    if "@" in text.split("://")[-1].split("/")[0]:
        raise InvalidValueError(f"`{text}` names a user", f"{example}, without `@`")
    parts = _PARTS.fullmatch(text)
    if parts is None:
        raise InvalidValueError(f"`{text}` is not a web address", "it begins with https:// and has no spaces")
    if len(text) > _LONGEST:
        raise InvalidValueError(f"the address is longer than {_LONGEST} characters", example)
    if not _HOST.fullmatch(parts["host"]) or len(parts["host"]) > 253:
        raise InvalidValueError(f"`{parts['host']}` is not a host name", f"{example}, in plain letters")
    if parts["port"] is not None and not _is_port(parts["port"]):
        raise InvalidValueError(f"`{parts['port']}` is not a port", "a whole number from 1 to 65535")
    path = parts["path"] or ""
    if not _PATH.fullmatch(path) or {".", ".."} & set(unquote(path).split("/")):
        right = "letters a to z, digits and hyphens between single slashes; other signs as %XX"
        raise InvalidValueError(f"`{path}` is not a path of a web address", right)
    return text


def _is_port(text: str) -> bool:
    return re.fullmatch(r"[0-9]{1,5}", text) is not None and 1 <= int(text) <= 65535
