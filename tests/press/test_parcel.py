"""A product comes back as it was; a cache that came along with a site cannot have anything run."""

from __future__ import annotations

import pickle
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from lessonpress.press.steps.digest import digest
from lessonpress.press.steps.parcel import packed, unpacked
from lessonpress.records.problem import Location, Problem

PRODUCT = {
    "problem": Problem(Location("lessons/a.md", 3, 4, "the line"), "wrong"),
    "set": frozenset({"navel", "c7", "head"}),
    "numbers": (1, 2.5, True, None, Fraction(30000, 1001)),
    "day": date(2026, 11, 28),
}


def test_a_product_comes_back_as_it_was() -> None:
    back = unpacked(packed(PRODUCT))
    assert back == PRODUCT
    assert digest(back) == digest(PRODUCT)


class _Evil:
    def __reduce__(self) -> tuple[object, tuple[str]]:
        return Path.unlink, ("anything",)


@pytest.mark.parametrize(
    "content",
    [
        pickle.dumps(_Evil()),
        b"cos\nsystem\n(S'true'\ntR.",
        b"clessonpress.cli\nmain\n(tR.",
        b"clessonpress.press.steps.parcel\npickle\n.",
        b"no pickle",
    ],
    ids=["a method", "the system", "a function of ours", "a module of ours", "no pickle"],
)
def test_what_is_no_record_is_not_opened(content: bytes) -> None:
    with pytest.raises(ValueError, match="no product"):
        unpacked(content)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (("ab", "c"), ("a", "bc")),
        ((1, 2), ((1,), 2)),
        ({"a": None}, {"a": False}),
        (1, 1.0),
        (1, True),
        ("1", 1),
        (Location("a", 1), Location("a", 2)),
        (Location("a", source="x"), Location("a", source="y")),
        (0.0, -0.0),
    ],
)
def test_what_says_something_else_has_another_hash(one: object, other: object) -> None:
    assert digest(one) != digest(other)


def test_a_set_has_one_hash_in_whatever_order_it_was_filled() -> None:
    names = [f"mark-{number}" for number in range(50)]
    assert digest(frozenset(names)) == digest(frozenset(reversed(names)))


def test_what_cannot_be_distinguished_is_refused() -> None:
    with pytest.raises(TypeError, match="function"):
        digest((lambda: None,))
