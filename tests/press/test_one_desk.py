"""One desk a site."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.press import only_desk
from lessonpress.records.fault import UsageError


def test_a_second_desk_learns_where_the_first_one_is(tmp_path: Path) -> None:
    first = "http://127.0.0.1:1234/"
    with only_desk(tmp_path, first):
        with pytest.raises(UsageError, match=first), only_desk(tmp_path, "http://127.0.0.1:5678/"):
            pass
        with pytest.raises(UsageError, match=first), only_desk(tmp_path, "http://127.0.0.1:5678/"):
            pass


def test_a_desk_that_ended_leaves_the_site_free(tmp_path: Path) -> None:
    for address in ("http://127.0.0.1:1234/", "http://127.0.0.1:5678/"):
        with only_desk(tmp_path, address):
            assert (tmp_path / "build" / "desk.lock").read_text(encoding="utf-8").strip() == address


def test_desks_of_two_sites_do_not_meet(tmp_path: Path) -> None:
    with (
        only_desk(tmp_path / "one", "http://127.0.0.1:1/"),
        only_desk(tmp_path / "two", "http://127.0.0.1:2/"),
    ):
        pass
