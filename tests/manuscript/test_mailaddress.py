"""Who letters may be from, after RFC 5322 (3.4.1), read as Python's own email package reads it."""

from __future__ import annotations

from email.utils import parseaddr

import pytest

from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.site.mailaddress import mail_address, way_out_of_list


@pytest.mark.parametrize(
    ("written", "address"),
    [
        ("letters@example.org", "letters@example.org"),
        ("Saltmarsh Studio <letters@example.org>", "letters@example.org"),
        ("Strandläufer & Söhne <a.b+c@xn--bcher-kva.example>", "a.b+c@xn--bcher-kva.example"),
    ],
)
def test_an_address_is_taken_with_its_name_or_without(written: str, address: str) -> None:
    assert mail_address(written) == written
    assert parseaddr(written)[1] == address


@pytest.mark.parametrize(
    "written",
    [
        "letters",
        "a@",
        "@b",
        "a b@c.org",
        "a@b@c.org",
        "Studio a@c.org",
        "A <a@c.org",
        "a..b@c.org",
        "A\n<a@c.org>",
    ],
)
def test_anything_else_is_refused(written: str) -> None:
    with pytest.raises(InvalidValueError):
        mail_address(written)


@pytest.mark.parametrize(
    "link", ["https://e.org/leave?id=1", "mailto:leave@e.org", "{{ leave }}", "*|LEAVE|*"]
)
def test_a_list_is_left_by_a_link_or_by_a_service_s_own_sign(link: str) -> None:
    assert way_out_of_list(link) == link


@pytest.mark.parametrize("link", ["javascript:alert(1)", "ftp://e.org/leave", "https://e.org/a b"])
def test_a_link_of_another_kind_is_refused(link: str) -> None:
    with pytest.raises(InvalidValueError):
        way_out_of_list(link)
