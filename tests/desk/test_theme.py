"""The desk's colours and faces are the packaged theme's, whatever site.yaml names."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient


@pytest.mark.parametrize("named", ["/etc", "..", "nowhere"])
def test_no_file_outside_the_packaged_theme_is_served(stranger: TestClient, site: Path, named: str) -> None:
    text = (site / "site.yaml").read_text(encoding="utf-8")
    (site / "site.yaml").write_text(f"{text}theme: {named}\n", encoding="utf-8")
    assert stranger.get("/theme/passwd").status_code == 404
    assert stranger.get("/theme/styles/tokens.css").status_code == 200
    told = stranger.get("/api/site").json()["problems"]
    assert "site.yaml" in str(told)
