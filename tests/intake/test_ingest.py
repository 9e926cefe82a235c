"""An ingested video is a clip whose card holds what the file says and asks for the rest."""

from __future__ import annotations

import hashlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from lessonpress.intake.ingest import ingest_video
from lessonpress.manuscript import read_site
from lessonpress.records.fault import UsageError
from tests.studio import strip
from tests.studio.film import encode


@pytest.fixture(scope="module")
def video(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("camera") / "Día 1 – Élan.MP4"
    encode(
        path.with_suffix(".mp4"), [strip.stamp(np.full((180, 144, 3), 99, np.uint8), n) for n in range(20)]
    )
    return path.with_suffix(".mp4").rename(path)


@pytest.fixture
def site(tmp_path: Path) -> Path:
    (tmp_path / "site.yaml").write_text("title: Notebook\n", encoding="utf-8")
    return tmp_path


def test_the_clip_is_named_after_the_file_in_letters_that_an_address_can_hold(
    site: Path, video: Path
) -> None:
    made = ingest_video(video, site)
    assert made.name == "dia-1-elan"
    assert sorted(path.name for path in made.folder.iterdir()) == [
        "clip.yaml",
        "dia-1-elan.mp4",
        "marks.yaml",
    ]
    assert (made.folder / "dia-1-elan.mp4").read_bytes() == video.read_bytes()
    assert video.exists()


def test_the_card_holds_what_the_file_says(site: Path, video: Path) -> None:
    text = (ingest_video(video, site).folder / "clip.yaml").read_text(encoding="utf-8")
    assert "video: dia-1-elan.mp4\n" in text
    assert f"fingerprint: {hashlib.sha256(video.read_bytes()).hexdigest()}\n" in text
    assert "20 pictures of 144 × 180 px, numbered from 0 to 19; 30 a second, 0.67 s" in text
    assert "deinterlace" not in text


def test_every_question_that_must_be_answered_is_reported_at_its_line(site: Path, video: Path) -> None:
    """And nothing else is wrong: what is filled in reads as it should."""
    folder = ingest_video(video, site).folder
    lines = (folder / "clip.yaml").read_text(encoding="utf-8").splitlines()
    _, problems = read_site(site)
    assert problems.errors == []
    (site / "lessons").mkdir()
    lesson = f"---\ntitle: A lesson\ndate: 2026-11-23\nclip: {folder.name}\n---\n```frame\nat: 0\n```\n"
    (site / "lessons" / "lesson.md").write_text(lesson, encoding="utf-8")
    _, problems = read_site(site)
    asked = {lines[problem.location.line - 1].split(":")[0] for problem in problems.errors}
    assert asked == {"view", "hand", "source", "people"}
    assert all("has no value" in problem.wrong for problem in problems.errors)


def test_where_a_view_is_chosen_the_card_says_where_no_one_stands(site: Path, video: Path) -> None:
    """Where a shank, a hooked ball or a slipped club can go; common practice, no published source."""
    text = (ingest_video(video, site).folder / "clip.yaml").read_text(encoding="utf-8")
    asked = text[: text.index("\nview:")].rpartition("\n\n")[2]
    assert all(place in asked for place in ("ahead of the player", "opposite the ball", "behind the swing"))
    assert "from-target is for rehearsals" in asked


def test_with_its_questions_answered_the_card_reads(site: Path, video: Path) -> None:
    card = ingest_video(video, site).folder / "clip.yaml"
    text = card.read_text(encoding="utf-8")
    for key, answer in {
        "view": "face-on",
        "hand": "right",
        "source": "{kind: own, credit: Me, licence: CC BY 4.0}",
        "people": "[]",
    }.items():
        text = text.replace(f"\n{key}:\n", f"\n{key}: {answer}\n")
    card.write_text(text, encoding="utf-8")
    read, problems = read_site(site)
    assert read is not None
    assert not problems.errors
    assert read.clips["dia-1-elan"].card is not None


def test_the_contact_sheet_lies_outside_the_clip(site: Path, video: Path) -> None:
    made = ingest_video(video, site, "swing")
    assert made.sheet == site / "build" / "sheets" / "swing.png"
    assert Image.open(made.sheet).format == "PNG"


def test_a_clip_that_is_there_is_not_overwritten(site: Path, video: Path) -> None:
    ingest_video(video, site, "swing")
    card = site / "clips" / "swing" / "clip.yaml"
    card.write_text("answered", encoding="utf-8")
    with pytest.raises(UsageError, match="not overwritten"):
        ingest_video(video, site, "swing")
    assert card.read_text(encoding="utf-8") == "answered"


@pytest.mark.parametrize("name", ["../outside", "a/b", "Swing", "", "-x"])
def test_a_name_that_is_none_is_refused(site: Path, video: Path, name: str) -> None:
    if name:
        with pytest.raises(UsageError, match="makes no clip's name"):
            ingest_video(video, site, name)
    else:
        assert ingest_video(video, site, name).name == "dia-1-elan"


@pytest.mark.parametrize("content", [b"", b"not a video", None])
def test_what_is_no_video_leaves_nothing_behind(site: Path, tmp_path: Path, content: bytes | None) -> None:
    file = tmp_path / "broken.mp4"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(UsageError, match=r"broken\.mp4"):
        ingest_video(file, site)
    assert not (site / "clips").exists()


def test_the_template_asks_whether_the_camera_was_still(site: Path, video: Path) -> None:
    """And each camera that it proposes reads as it is written."""
    card = ingest_video(video, site).folder / "clip.yaml"
    text = card.read_text(encoding="utf-8")
    assert "tripod" in text and "still: true" in text
    proposed = [line for line in text.splitlines() if line.startswith("# camera:")]
    assert len(proposed) == 2
    for line in proposed:
        card.write_text(text.replace(line, line.removeprefix("# "), 1), encoding="utf-8")
        _, problems = read_site(site)
        assert all("has no value" in problem.wrong for problem in problems.errors)
