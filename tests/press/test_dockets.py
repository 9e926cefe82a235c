"""What a press knows of those before it: kept whole, and after a small change only what is other since."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.press.cache import Cache
from lessonpress.press.steps.dockets import FORM, Docket, Dockets
from lessonpress.press.steps.uses import Key, Use


def _key(number: int) -> Key:
    return ("page", f"lesson-{number}", "")


def _use(hashed: str) -> Use:
    return ("file", "lessons/one.md", ""), hashed


def _docket(dockets: Dockets, hashed: str) -> Docket:
    made_of = dockets.numbered(_key(3), [_use(hashed)])
    return Docket(made_of, hashed, "", hashed, (), ())


def _known(count: int) -> Dockets:
    dockets = Dockets()
    for number in range(count):
        dockets.add(_key(number), _docket(dockets, "0"))
    return dockets


def test_a_small_change_is_kept_beside_the_whole_and_read_with_it(tmp_path: Path) -> None:
    cache = Cache(tmp_path)
    dockets = _known(100)
    dockets.keep(cache)
    whole = cache.entry("dockets", FORM).path.read_bytes()
    for hashed in ("1", "2"):
        found = Dockets.kept(cache)
        found.add(_key(3), _docket(found, hashed))
        found.note_part(("heads", "", "three"), hashed, hashed)
        found.keep(cache)
    again = Dockets.kept(cache)
    assert cache.entry("dockets", FORM).path.read_bytes() == whole
    assert [one.product for one in again.of[_key(3)]] == ["2", "1"]
    assert again.parts == {("heads", "", "three"): ("2", "2")}
    assert len(again.of) == 100
    assert [again.uses.in_order(one.made_of) for one in again.of[_key(4)]] == [[_use("0")]]
    assert [again.uses.in_order(one.made_of) for one in again.of[_key(3)]] == [[_use("2")], [_use("1")]]


def test_what_is_kept_in_several_parts_is_read_as_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Uses of several parts are in the first of them alone."""
    monkeypatch.setattr("lessonpress.press.steps.dockets._TOGETHER", 7)
    dockets = Dockets()
    uses = {_key(number): [_use("of all"), _use(f"of {number // 3}")] for number in range(20)}
    for key, own in uses.items():
        dockets.add(key, Docket(dockets.numbered(key, own), key[1], "", None, (), ()))
        dockets.note_part((*key[:2], "title"), key[1], "part")
    dockets.keep(Cache(tmp_path))
    found = Dockets.kept(Cache(tmp_path))
    assert {key: found.uses.in_order(one.made_of) for key, (one,) in found.of.items()} == uses
    assert found.parts == dockets.parts
    assert len(found.uses.numbered) == len(set(found.uses.numbered)) == 8


def test_a_large_change_is_kept_as_a_whole_and_what_was_kept_beside_another_is_not_believed(
    tmp_path: Path,
) -> None:
    cache = Cache(tmp_path)
    _known(100).keep(cache)
    found = Dockets.kept(cache)
    found.add(_key(3), _docket(found, "1"))
    found.keep(cache)
    other = _known(20)
    other.add(_key(3), _docket(other, "2"))
    other.keep(cache)
    assert [one.product for one in Dockets.kept(cache).of[_key(3)]] == ["2", "0"]


def test_the_docket_of_the_finished_site_outlives_mistakes(tmp_path: Path) -> None:
    dockets = _known(1)
    good = _docket(dockets, "good")
    dockets.add(_key(0), good)
    dockets.rest_on({_key(0): good})
    for mistake in "abc":
        dockets.add(_key(0), _docket(dockets, mistake))
    assert [one.product for one in dockets.of[_key(0)]] == ["c", "b", "good"]
