"""What a press writes for those who bring a site to its host: what changed, and smaller forms of files."""

from __future__ import annotations

import gzip
import json
import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import pytest

from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from lessonpress.records import UsageError

LESSON = "---\ntitle: {name}\ndate: 2026-01-02\ntopics: [hub]\nsummary: In short.\n---\n\n{words}\n"


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return make(tmp_path / "notebook")


def make(root: Path) -> Path:
    for folder in ("lessons", "root"):
        (root / folder).mkdir(parents=True)
    words = "title: Märchen\nurl: https://example.org\ntimezone: Asia/Tokyo\n"
    (root / "site.yaml").write_text(words, encoding="utf-8")
    (root / "root" / "notes.txt").write_text("the author's own, as it is\n" * 40, encoding="utf-8")
    for name in ("one", "two"):
        write(root, name, "The words of a lesson. " * 40)
    return root


def write(root: Path, name: str, words: str) -> None:
    (root / "lessons" / f"{name}.md").write_text(LESSON.format(name=name, words=words), encoding="utf-8")


def changes(out: Path) -> dict[str, list[str]]:
    read: dict[str, list[str]] = json.loads((out.parent / "site.changes.json").read_bytes())
    return read


def files(folder: Path) -> dict[str, bytes]:
    return {str(one.relative_to(folder)): one.read_bytes() for one in folder.rglob("*") if one.is_file()}


def test_what_changed_brings_a_copy_of_the_last_site_to_this_one(site: Path) -> None:
    """Held against the folders themselves: what a tool at the host would do with the lists is done here."""
    out, host = site / "build" / "site", {}
    for step in ("all new", "a word and a lesson less", "nothing", "one lesson more"):
        if step == "a word and a lesson less":
            write(site, "one", "Other words.")
            (site / "lessons" / "two.md").unlink()
        if step == "one lesson more":
            write(site, "three", "More.")
        last = host.get("press.json")
        out.parent.mkdir(exist_ok=True)
        (out.parent / ".site.changes.json.0badcafe.saving").write_bytes(b"of a press that was killed")
        press(site, out, Silent())
        assert not list(out.parent.glob("*.saving"))
        said, now = changes(out), files(out)
        assert said["before"] == (None if last is None else sha256(last).hexdigest())
        assert said["now"] == sha256(now["press.json"]).hexdigest()
        assert all(path in host for path in said["changed"])
        assert not any(path in host for path in said["added"])
        for path in said["added"] + said["changed"]:
            assert host.get(path) != now[path]
            host[path] = now[path]
        for path in said["removed"]:
            del host[path]
        assert host == now
        assert (said["added"] or said["changed"] or said["removed"]) != [] or step == "nothing"
    assert "site.changes.json" not in host


def test_compressed_files_hold_what_the_others_hold(site: Path) -> None:
    """RFC 1952 and RFC 7932, read back by the standard library and by the library brotli."""
    brotli = pytest.importorskip("brotli")
    out = site / "build" / "site"
    press(site, out, Silent(), compressed=True)
    made = files(out)
    for path in ("index.html", "lessons/one/index.html", "feed.xml", "404.html"):
        assert gzip.decompress(made[f"{path}.gz"]) == brotli.decompress(made[f"{path}.br"]) == made[path]
        assert len(made[f"{path}.br"]) < len(made[f"{path}.gz"]) < len(made[path])
    untouched = [path for path in made if path.startswith(("notes.txt.", "press.json."))]
    assert untouched == []
    assert not [path for path in made if path.endswith((".woff2.gz", ".woff2.br"))]
    press(site, out, Silent())
    assert not [path for path in files(out) if path.endswith((".gz", ".br"))]


def test_without_the_library_it_is_refused_before_any_work(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    with pytest.raises(UsageError, match="needs the library brotli"):
        press(site, site / "build" / "site", Silent(), compressed=True)
    assert not (site / "build").exists()


def test_a_press_elsewhere_at_another_time_is_the_same_to_the_byte(tmp_path: Path) -> None:
    """Other folder, locale, time zone, hash seed, count of workers and day; each from nothing."""
    made = []
    for place, words, told in (
        ("here", [], {"TZ": "America/Anchorage", "LC_ALL": "C", "PYTHONHASHSEED": "1"}),
        (
            "elsewhere/deeper",
            ["--workers", "1", "--as-of", "2031-05-06"],
            {"TZ": "Pacific/Auckland", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "2"},
        ),
    ):
        root, out = make(tmp_path / place), tmp_path / f"{len(made)}" / "site"
        started = [sys.executable, "-c", "from lessonpress.cli import main; main()"]
        command = [*started, "press", str(root), "--out", str(out), *words]
        subprocess.run(command, env=os.environ | told, check=True, capture_output=True)
        made.append(files(out))
    assert made[0] == made[1]
    assert len(made[0]) > 10
