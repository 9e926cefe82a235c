"""press.json changed line by line: what comes out is what would be written from nothing."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.press.receipt import changed, hash_of, receipt

PATHS = tuple(f"lessons/{number}/index.html" for number in range(30))
SITES = st.dictionaries(st.sampled_from(PATHS), st.sampled_from([hash_of(text) for text in (b"a", b"b")]))


@given(SITES.filter(bool), SITES)
def test_a_changed_receipt_is_that_of_the_site_as_it_is_now(was: dict[str, str], now: dict[str, str]) -> None:
    differ = {path: hashed for path, hashed in now.items() if was.get(path) != hashed}
    said = changed(receipt(was), was.keys() - now.keys(), differ)
    assert said == receipt(now)
    assert len(json.loads(said)["files"]) == len(now)


@pytest.mark.parametrize(
    "before",
    [b"", b"{}", receipt({})[:-3], receipt({"index.html": hash_of(b"a")}).replace(b'"version"', b'"of"')],
)
def test_what_is_no_receipt_is_not_changed(before: bytes) -> None:
    with pytest.raises(ValueError, match="no receipt"):
        changed(before, (), {"index.html": hash_of(b"b")})
