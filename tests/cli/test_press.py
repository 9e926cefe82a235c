"""`press` from the outside: what it prints where, and its exit code."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from lessonpress.records.theme import theme_folder
from tests.cli.conftest import Ask
from tests.conftest import Rewrite

_RUN = "from lessonpress.cli import main; main()"


def _run(*words: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", _RUN, *words],
        cwd=cwd,
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        encoding="utf-8",
    )


def test_the_summary_is_data_and_the_stages_are_not(ask: Ask, own_site: Path) -> None:
    code, out, err = ask("press", own_site)
    assert code == 0
    found = re.fullmatch(
        rf"{re.escape(str(own_site))}/build/site: \d+ pages, (\d+) figures, \d+ measures, 0 warnings, "
        r"\d+\.\d MB, \d+\.\d s\n",
        out,
    )
    assert found, out
    assert int(found[1]) == 15
    assert err.splitlines()[0] == "reading the site"
    assert (own_site / "build" / "site" / "index.html").is_file()


def test_it_says_what_was_made_again_and_because_of_which_file(
    ask: Ask, own_site: Path, rewrite: Rewrite
) -> None:
    ask("press", own_site)
    rewrite(own_site / "lessons" / "pelvis.md", "three lines", "three plumb lines")
    _, out, _ = ask("press", own_site, "--why")
    assert "the page of pelvis: because of lessons/pelvis.md\n" in out
    assert "page of kinds" not in out
    _, out, _ = ask("press", own_site, "--why")
    (line,) = out.splitlines()
    assert line.endswith("nothing to do")


def test_the_site_is_the_nearest_folder_upward(own_site: Path) -> None:
    done = _run("press", cwd=own_site / "clips" / "dune-face-on")
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("../../build/site: ")


def test_a_folder_of_someone_elses_exits_with_2(ask: Ask, own_site: Path, tmp_path: Path) -> None:
    theirs = tmp_path / "theirs"
    theirs.mkdir()
    (theirs / "index.html").write_text("a site made otherwise", encoding="utf-8")
    code, out, err = ask("press", own_site, "--out", theirs)
    assert (code, out) == (2, "")
    assert err.startswith(f"lessonpress: {theirs} holds something that was not pressed here")
    assert (theirs / "index.html").read_text(encoding="utf-8") == "a site made otherwise"


def test_what_was_put_into_the_pressed_folder_is_named_and_goes_only_when_asked(
    ask: Ask, own_site: Path, tmp_path: Path
) -> None:
    out = tmp_path / "site"
    assert ask("press", own_site, "--out", out)[0] == 0
    (out / "CNAME").write_text("club.example", encoding="utf-8")
    code, said, err = ask("press", own_site, "--out", out)
    assert (code, said) == (2, "")
    assert err == (
        f"lessonpress: {out} holds what no press put there, or what was changed since: CNAME; "
        "a press would take it away, so move it elsewhere, or say `--discard` to lose it\n"
    )
    assert (out / "CNAME").is_file()
    assert ask("press", own_site, "--out", out, "--discard")[0] == 0
    assert not (out / "CNAME").exists()


@pytest.mark.parametrize(
    "out", ["lessons", "clips/dune-face-on/site", "site.yaml", "site.yaml/site", "n" * 300]
)
def test_a_place_where_no_site_can_be_exits_with_2_and_nothing_lost(
    ask: Ask, own_site: Path, out: str
) -> None:
    before = sorted(own_site.rglob("*"))
    code, said, err = ask("press", own_site, "--out", own_site / out)
    assert (code, said) == (2, "")
    assert len(err.splitlines()) == 1 and err.startswith("lessonpress: ") and "; " in err
    assert sorted(own_site.rglob("*")) == before


def test_the_site_itself_is_no_place_for_the_output(ask: Ask, own_site: Path) -> None:
    before = sorted(own_site.iterdir())
    assert ask("press", own_site, "--out", own_site)[0] == 2
    assert sorted(own_site.iterdir()) == before


@pytest.mark.parametrize("locale", ["C", "C.UTF-8"])
def test_folders_may_be_called_anything_in_any_locale(own_site: Path, tmp_path: Path, locale: str) -> None:
    """Letters beyond ASCII, spaces, quotes and signs that a shell or an address would trip over."""
    name = "Übungsplatz 練習 #1 & 'mehr' 50%"
    own_site.rename(tmp_path / name)
    done = _run("press", name, "--out", f"{name} → out", cwd=tmp_path, LC_ALL=locale)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(f"{name} → out: ")
    assert (tmp_path / f"{name} → out" / "lessons" / "pelvis" / "index.html").is_file()


def test_a_video_library_that_does_not_load_is_reported_with_debians_package(
    own_site: Path, tmp_path: Path
) -> None:
    stub = tmp_path / "stub" / "cv2"
    stub.mkdir(parents=True)
    said = "libGL.so.1: cannot open shared object file: No such file or directory"
    (stub / "__init__.py").write_text(f"raise ImportError({said!r})\n", encoding="utf-8")
    done = _run("press", str(own_site), cwd=tmp_path, PYTHONPATH=str(stub.parent), TMPDIR=str(tmp_path))
    assert (done.returncode, done.stdout) == (3, "")
    *progress, line = done.stderr.splitlines()
    assert progress == ["reading the site"]
    assert "libGL.so.1" in line
    assert "apt-get install libgl1 (report: " in line


def test_a_cache_that_cannot_be_written_exits_with_3_and_a_report(
    ask: Ask, own_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    shutil.rmtree(own_site / "build")
    (own_site / "build").write_text("a file where the folder would be", encoding="utf-8")
    code, out, err = ask("press", own_site, "--out", tmp_path / "site")
    assert (code, out) == (3, "")
    assert re.search(r"^lessonpress: Not a directory: .*build.* \(report: .*\)$", err, re.MULTILINE)
    assert not (tmp_path / "site").exists()


def test_an_own_theme_is_pressed_with_when_asked_for(ask: Ask, own_site: Path, tmp_path: Path) -> None:
    shutil.copytree(theme_folder(), own_site / "themes" / "mine")
    template = own_site / "themes" / "mine" / "templates" / "404.html"
    site = own_site / "site.yaml"
    site.write_text(site.read_text(encoding="utf-8") + "theme: mine\n", encoding="utf-8")
    code, _, err = ask("press", own_site, "--out", tmp_path / "site")
    assert code == 1
    assert "--own-themes" in err
    template.write_text("Of their own.", encoding="utf-8")
    assert ask("press", own_site, "--out", tmp_path / "site", "--own-themes")[0] == 0
    assert (tmp_path / "site" / "404.html").read_text(encoding="utf-8") == "Of their own."
    template.write_text("\n{{ nothing }}", encoding="utf-8")
    code, _, err = ask("press", own_site, "--out", tmp_path / "site", "--own-themes")
    assert code == 2
    assert "themes/mine/templates/404.html:2: the template fails: " in err
    assert (tmp_path / "site" / "404.html").read_text(encoding="utf-8") == "Of their own."
