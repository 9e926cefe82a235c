"""A letter as a draft that a mail program opens ready to address: RFC 5322, and MIME by RFC 2045 to 2049.

There is no addressee and, unless site.yaml has `mail: {from: …}`, no sender: the program that sends the draft
puts in its own. Nothing here sends anything. The same letter gives the same bytes.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import UTC, date, datetime, time
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import parseaddr
from hashlib import sha256
from mimetypes import guess_type

from lessonpress.manuscript import Site
from lessonpress.outlets.letters.letter import Letter
from lessonpress.outlets.letters.sources import beside, content_id

_LINKED = re.compile(r"(?:https?://|mailto:)\S+")


def message(letter: Letter, site: Site, on: date, pictures: Mapping[str, bytes]) -> bytes:
    """The draft, dated midnight UTC of the day `on`. pictures: to be attached, by their paths in the site."""
    draft = EmailMessage(policy=SMTP)
    draft["Subject"] = letter.subject
    draft["Date"] = datetime.combine(on, time(), UTC)
    if site.mail.sender:
        draft["From"] = _address(site.mail.sender)
    if site.mail.reply_to:
        draft["Reply-To"] = _address(site.mail.reply_to)
    if site.mail.unsubscribe and _LINKED.fullmatch(site.mail.unsubscribe):
        draft["List-Unsubscribe"] = f"<{site.mail.unsubscribe}>"  # RFC 2369
    draft["X-Unsent"] = "1"  # by common practice what makes mail programs open a file as a draft
    draft.set_content(letter.text, cte="quoted-printable")
    draft.add_alternative(letter.html, subtype="html", cte="quoted-printable")
    html = draft.get_payload(1)
    assert isinstance(html, EmailMessage)
    for path, content in pictures.items():
        html.add_related(
            content,
            "image",
            _subtype(path),
            cid=f"<{content_id(path, site)}>",
            filename=beside(path).rpartition("/")[2],
            disposition="inline",
        )
    _set_boundaries(draft, letter)
    return draft.as_bytes()


def _subtype(path: str) -> str:
    """Of the media type of a picture, by its suffix."""
    return (guess_type(path)[0] or "image/png").partition("/")[2]


def _address(written: str) -> Address:
    name, at = parseaddr(written)
    return Address(name, addr_spec=at)


def _set_boundaries(draft: EmailMessage, letter: Letter) -> None:
    """Boundaries made of the content: the standard library draws them by lot."""
    drawn = sha256(f"{letter.subject}\0{letter.text}\0{letter.html}".encode()).hexdigest()[:32]
    for number, part in enumerate(one for one in draft.walk() if one.is_multipart()):
        part.set_boundary(f"={number}={drawn}=")
