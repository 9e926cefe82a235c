"""A desk on a copy of the drawn site, asked as its own pages ask."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.http.app import application
from lessonpress.desk.http.context import Desk

PORT = 8321
ADDRESS = f"http://127.0.0.1:{PORT}"
TOKEN = "a-token-for-this-run"
WITH_TOKEN = {"X-Desk-Token": TOKEN}


@pytest.fixture
def site(drawn_site: Path, tmp_path: Path) -> Path:
    """A copy of the drawn site that a test may change."""
    return Path(shutil.copytree(drawn_site, tmp_path / "notebook"))


@pytest.fixture
def desk(site: Path) -> Desk:
    return Desk.of(site)


@pytest.fixture
def stranger(desk: Desk) -> Iterator[TestClient]:
    """A stranger who reaches the port and has no token."""
    with TestClient(application(desk, PORT, TOKEN, watching=False), base_url=ADDRESS) as client:
        yield client


@pytest.fixture
def author(stranger: TestClient) -> TestClient:
    """The browser that was opened by the desk."""
    stranger.headers.update(WITH_TOKEN)
    return stranger


def files_of(folder: Path) -> dict[str, bytes]:
    """Path → content of all that an author wrote."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and "build" not in path.relative_to(folder).parts
    }
