"""Any folder is read in one run: what can be read becomes a site, all else problems, never an exception."""

from __future__ import annotations

import pickle
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lessonpress.manuscript import read_site
from lessonpress.manuscript.fields.names import plain_name
from lessonpress.manuscript.text import files
from lessonpress.records.problem import problem_text
from tests.manuscript.documents import SOUND, lay_out

PATHS = (
    "site.yaml",
    "glossary.yaml",
    "clips/dune/clip.yaml",
    "clips/dune/marks.yaml",
    "clips/dune/tracks.csv",
    "lessons/hips.md",
    "pages/about.md",
)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    lay_out(SOUND, tmp_path)
    return tmp_path


def test_a_site_holds_what_its_folder_holds(root: Path) -> None:
    (root / "pages").mkdir()
    (root / "pages" / "about.md").write_text("---\ntitle: About\n---\nUs.\n")
    (root / "glossary.yaml").write_text("hub: the middle of the shoulders\n1: one\n")
    (root / "lessons" / "a.md").write_text("---\ntitle: A\ndate: 2026-11-23\n---\n")
    (root / "lessons" / "z.md").write_text("---\ntitle: Z\ndate: 2026-11-01\n---\n")
    (root / "lessons" / ".hidden.md").write_text("no lesson")
    (root / "site.yaml").write_text("title: Notes\nunits: cm\nsets: {usual: [{vertical: navel}, grid]}\n")
    site, problems = read_site(root)
    assert problems.collected == []
    assert site is not None
    assert [lesson.name for lesson in site.lessons] == ["z", "a", "hips"]
    assert site.glossary == {"hub": "the middle of the shoulders", "1": "one"}
    assert (site.pages["about"].body, site.pages["about"].body_line) == ("Us.\n", 4)
    assert (site.units, site.implement.head, site.theme) == ("cm", "clubhead", "plate-book")
    assert [overlay.plain for overlay in site.sets["usual"]] == [{"vertical": "navel"}, {"grid": None}]


def test_a_folder_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    site, problems = read_site(tmp_path / "nowhere")
    assert site is None
    assert [problem_text(problem) for problem in problems.collected] == [
        "site.yaml:1:1: there is no site.yaml; write one that holds `title: …`"
    ]


def test_a_folder_that_may_not_be_opened_is_a_problem(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed = Path.iterdir

    def refuse(path: Path) -> Iterator[Path]:
        if path.name == "lessons":
            raise PermissionError(13, "Permission denied")
        return listed(path)

    monkeypatch.setattr(Path, "iterdir", refuse)
    site, problems = read_site(root)
    assert site is not None
    assert [problem_text(problem) for problem in problems.collected] == [
        "lessons:1:1: the folder cannot be read: permission denied; see to it that it can be opened"
    ]


def test_a_file_that_may_not_be_opened_is_a_problem(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = files.bytes_of

    def refuse(path: Path) -> bytes:
        if path.name == "clip.yaml":
            raise PermissionError(13, "Permission denied")
        return opened(path)

    monkeypatch.setattr(files, "bytes_of", refuse)
    site, problems = read_site(root)
    assert site is not None
    assert site.clips["dune"].card is None
    assert problems.collected[0].wrong == "the file cannot be read: permission denied"


def test_folders_in_place_of_files_and_files_in_place_of_folders_are_problems(tmp_path: Path) -> None:
    (tmp_path / "site.yaml").mkdir()
    (tmp_path / "clips").write_text("")
    (tmp_path / "lessons").write_text("")
    site, problems = read_site(tmp_path)
    assert site is None
    assert sorted(problem.location.path for problem in problems.errors) == ["clips", "lessons", "site.yaml"]


def test_a_link_to_nothing_is_a_problem(root: Path) -> None:
    (root / "lessons" / "gone.md").symlink_to(root / "nothing.md")
    (root / "lessons" / "round.md").symlink_to(root / "lessons" / "round.md")
    _, problems = read_site(root)
    assert [problem.location.path for problem in problems.errors] == ["lessons/gone.md", "lessons/round.md"]


def test_a_site_crosses_to_another_process_whole(root: Path) -> None:
    site, problems = read_site(root)
    again, told = pickle.loads(pickle.dumps((site, problems)))
    assert again == site
    assert told == problems


def test_reading_a_site_loads_neither_arrays_nor_pictures() -> None:
    code = (
        "import sys, lessonpress.manuscript; sys.exit(bool({'numpy', 'cv2', 'av', 'PIL'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(PATHS), st.binary(max_size=300))
def test_any_bytes_in_any_file_give_problems_and_no_exception(root: Path, path: str, data: bytes) -> None:
    lay_out(SOUND | {path: data}, root)
    _, problems = read_site(root)
    assert all(problem_text(problem) for problem in problems.in_order())


LETTERS = st.text(st.sampled_from("{}[]:,-`'\"|>&*!#%@\\\n\t .0123~eé揮navel"), max_size=120)


@settings(deadline=None, max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(PATHS), LETTERS, st.booleans(), st.data())
def test_any_signs_in_any_file_give_problems_and_no_exception(
    root: Path, path: str, text: str, fenced: bool, data: st.DataObject
) -> None:
    sound = SOUND.get(path, b"").decode()
    cut = data.draw(st.integers(0, len(sound)))
    body = f"```frame\n{text}\n```\n" if fenced and path.endswith(".md") else text
    lay_out(SOUND | {path: (sound[:cut] + body + sound[cut:]).encode()}, root)
    _, problems = read_site(root)
    assert all(problem_text(problem) for problem in problems.in_order())


VALUES = st.sampled_from(
    [
        ".nan",
        ".inf",
        "-1",
        "1e400",
        "[]",
        "{}",
        "[[]]",
        "{a: b}",
        "true",
        "~",
        "''",
        "9" * 5000,
        "0x1f",
        "[.nan, 1]",
    ]
)
KEYS = (
    "filmed_at",
    "events",
    "scale",
    "depth",
    "lens",
    "camera",
    "people",
    "plumb",
    "middles",
    "readout",
    "source",
)


@pytest.mark.parametrize("key", KEYS)
@settings(deadline=None, max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(value=VALUES)
def test_any_value_of_any_key_gives_problems_and_no_exception(root: Path, key: str, value: str) -> None:
    card = SOUND["clips/dune/clip.yaml"].decode()
    lines = [line for line in card.split("\n") if not line.startswith(f"{key}:")]
    text = "\n".join([*lines, f"{key}: {value}", ""])
    lay_out(SOUND | {"clips/dune/clip.yaml": text.encode()}, root)
    _, problems = read_site(root)
    assert all(problem_text(problem) for problem in problems.in_order())


@pytest.mark.parametrize(
    "text", ["[" * 9000, "> " * 4000, "![" * 4000, "*a **b " * 3000, "{" * 9000, "- " * 4000]
)
def test_deep_nesting_ends_in_a_lesson_or_problems(root: Path, text: str) -> None:
    for path in ("lessons/hips.md", "clips/dune/marks.yaml"):
        sound = SOUND.get(path, b"")
        lay_out(SOUND | {path: sound + text.encode() + b"\n"}, root)
        site, _ = read_site(root)
        assert site is not None


def test_a_plain_name_has_no_accents_capitals_or_spaces() -> None:
    assert plain_name("Día 1") == "dia-1"
    assert plain_name("🏌️") == ""
