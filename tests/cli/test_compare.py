"""`compare` writes one new file and says where, or lists what the clip lacks."""

from __future__ import annotations

from pathlib import Path

from tests.cli.conftest import Ask
from tests.conftest import Rewrite


def test_it_says_where_the_draft_is_and_then_that_it_is_there_already(ask: Ask, own_site: Path) -> None:
    words = ("compare", "shingle-face-on", "pelvis", "--for", "Marina: and Paul", "--site", own_site)
    code, out, err = ask(*words)
    assert (code, err) == (0, "")
    path = own_site / "lessons" / "pelvis-shingle-face-on.md"
    assert out.startswith(f"{path}: a draft of 5 pairs; ")
    assert 'for: "Marina: and Paul"\n' in path.read_text(encoding="utf-8")
    code, out, err = ask(*words)
    assert (code, out) == (2, "")
    assert "is there already and is kept as it is" in err


def test_it_lists_what_is_lacking_with_its_file(ask: Ask, own_site: Path, rewrite: Rewrite) -> None:
    card = own_site / "clips" / "shingle-face-on" / "clip.yaml"
    rewrite(card, " top: ", " peak: ")
    code, out, err = ask("compare", "shingle-face-on", "pelvis", "--for", "Marina", "--site", own_site)
    assert (code, out) == (1, "")
    assert f"{card}:" in err
    assert "shingle-face-on has no event `top`, which the plates top, sequence need" in err


def test_it_asks_whom_it_is_for(ask: Ask, own_site: Path) -> None:
    code, _, err = ask("compare", "shingle-face-on", "pelvis", "--site", own_site)
    assert code == 2
    assert "--for" in err
