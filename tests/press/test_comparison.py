"""A clip held against a lesson: what is drafted, what is listed as lacking, and what is left alone.

The lesson is the drawn site's of the pelvis; the other clip is that of another swinger.
"""

from __future__ import annotations

import csv
import re
import shutil
from pathlib import Path

import pytest
import yaml

from lessonpress.press.comparison import Compared, CompareOptions, compare
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from lessonpress.records import UsageError
from tests.conftest import Rewrite

NAME = "pelvis-shingle-face-on"


def held(
    root: Path, *, incomplete: bool = False, lesson: str = "pelvis", clip: str = "shingle-face-on"
) -> Compared:
    return compare(root, clip, lesson, CompareOptions("Marina", incomplete), Silent())


@pytest.fixture(scope="module")
def root(drawn_site: Path, pressed_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site with the draft in it, pressed with its drafts."""
    copied = Path(shutil.copytree(drawn_site, tmp_path_factory.mktemp("compared") / "notebook"))
    assert held(copied).path == copied / "lessons" / f"{NAME}.md"
    done = press(copied, copied / "build" / "site", Silent(), drafts=True, workers=1)
    assert done.summary is not None, done.problems.errors
    return copied


@pytest.fixture(scope="module")
def text(root: Path) -> str:
    return (root / "lessons" / f"{NAME}.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def ledgers(root: Path) -> dict[str, dict[str, dict[str, str]]]:
    """By folder under `lessons/`, the rows of its ledger by their ids."""
    return {
        file.parent.name: {row["id"]: row for row in csv.DictReader(file.read_text("utf-8").splitlines())}
        for file in (root / "build" / "site" / "lessons").glob("*/measures.csv")
    }


def front_of(text: str) -> dict[str, object]:
    return dict(yaml.safe_load(text.split("---\n")[1]))


def test_it_is_a_draft_for_one_person_at_an_address_of_its_own(text: str) -> None:
    front = front_of(text)
    assert front["for"] == "Marina"
    assert front["draft"] is True
    assert re.fullmatch("[a-z0-9]{26}", str(front["address"]))


def test_each_plate_is_a_pair_that_faces_one_way(text: str) -> None:
    """Dune plays right-handed and Shingle left-handed; no words about Dune's swing come along."""
    pairs = [yaml.safe_load(block) for block in re.findall(r"```pair\n(.*?)```", text, re.S)]
    assert [one["id"] for one in pairs] == [
        "setup",
        "sequence-setup",
        "top",
        "sequence-top",
        "sequence-impact",
    ]
    sides = [{"clip": "dune-face-on"}, {"clip": "shingle-face-on", "mirrored": True}]
    assert all(one["of"] == sides for one in pairs)
    assert [len(one["draw"]) for one in pairs] == [3, 1, 2, 2, 2]
    assert "caption" not in text


def test_the_first_of_each_pair_is_what_the_lesson_itself_prints(
    text: str, ledgers: dict[str, dict[str, dict[str, str]]]
) -> None:
    drafted, lesson = ledgers[str(front_of(text)["address"])], ledgers["pelvis"]
    for name, of_lesson in (("navel-back", "navel-back"), ("lean-impact", "lean.impact")):
        for column in ("value", "uncertainty", "unit", "way"):
            assert drafted[f"{name}.first"][column] == lesson[of_lesson][column]


def test_a_sentence_is_there_only_for_a_difference_larger_than_its_uncertainty(
    text: str, ledgers: dict[str, dict[str, dict[str, str]]]
) -> None:
    rows = ledgers[str(front_of(text)["address"])]
    larger = {
        name.removesuffix(".difference")
        for name, row in rows.items()
        if name.endswith(".difference") and abs(float(row["value"])) > float(row["uncertainty"])
    }
    said = set(re.findall(r"\{([a-z-]+)\.difference:size\} apart", text))
    tabled = re.findall(r"\| \{([a-z-]+)\.difference\}( \(may be none\))? \|", text)
    assert said == larger
    assert {name for name, doubt in tabled if not doubt} == larger
    assert {name for name, doubt in tabled if doubt} == {
        "navel-back",
        "lean-setup",
        "lean-top",
        "lean-impact",
    } - larger


def test_it_overwrites_nothing(root: Path, text: str) -> None:
    with pytest.raises(UsageError, match="is kept as it is"):
        held(root)
    assert (root / "lessons" / f"{NAME}.md").read_text(encoding="utf-8") == text


@pytest.fixture
def unready(own_site: Path) -> Path:
    """The other clip has no event `top`, and lacks C7 at impact and the navel at setup."""
    folder = own_site / "clips" / "shingle-face-on"
    card = yaml.safe_load((folder / "clip.yaml").read_text("utf-8"))
    marks = yaml.safe_load((folder / "marks.yaml").read_text("utf-8"))
    del marks["c7"][card["events"]["impact"]]
    del marks["navel"][card["events"]["setup"]]
    del card["events"]["top"]
    (folder / "clip.yaml").write_text(yaml.safe_dump(card), encoding="utf-8")
    (folder / "marks.yaml").write_text(yaml.safe_dump(marks), encoding="utf-8")
    return own_site


def test_all_that_a_clip_lacks_is_listed_at_once_and_nothing_is_written(unready: Path) -> None:
    done = held(unready)
    said = [(one.location.path.rpartition("/")[2], one.wrong, one.right) for one in done.problems.errors]
    events = yaml.safe_load((unready / "clips" / "shingle-face-on" / "clip.yaml").read_text("utf-8"))[
        "events"
    ]
    wrong, right = said[0][1:]
    assert wrong == "shingle-face-on has no event `top`, which the plates top, sequence need"
    assert right.startswith("write `top: FRAME` under `events`, and then place ")
    assert {"navel", "c7", "head"} <= set(re.findall(r"[a-z0-9-]+", right))
    assert [one[:2] for one in said[1:]] == [
        ("marks.yaml", f"frame {events['setup']} (`setup`) of shingle-face-on lacks navel"),
        ("marks.yaml", f"frame {events['impact']} (`impact`) of shingle-face-on lacks c7"),
    ]
    assert done.path is None
    assert not (unready / "lessons" / f"{NAME}.md").exists()


def test_what_is_complete_is_written_where_that_is_asked_for(unready: Path, rewrite: Rewrite) -> None:
    rewrite(unready / "lessons" / "pelvis.md", "at: setup", "at: impact")
    done = held(unready, incomplete=True)
    assert done.problems.errors == []
    assert done.path is not None
    pairs = [
        yaml.safe_load(block)["id"]
        for block in re.findall(r"```pair\n(.*?)```", done.path.read_text("utf-8"), re.S)
    ]
    assert pairs == ["setup"]


def test_an_instant_that_is_no_event_is_left_out_with_its_line(own_site: Path, rewrite: Rewrite) -> None:
    rewrite(own_site / "lessons" / "pelvis.md", "id: top\nat: top", "id: top\nat: top - 1")
    done = held(own_site)
    assert done.path is not None
    (problem,) = [one for one in done.problems.collected if "no event" in one.wrong]
    assert problem.severity == "warning"
    assert "`top - 1`" in problem.wrong
    assert "id: top\n" not in done.path.read_text("utf-8")


def test_from_another_side_nothing_is_held_against_it(own_site: Path, rewrite: Rewrite) -> None:
    card = own_site / "clips" / "shingle-face-on" / "clip.yaml"
    said = card.read_text("utf-8")
    card.write_text(
        re.sub("view: face-on", "view: from-behind", re.sub("target: .*\n", "", said)), encoding="utf-8"
    )
    done = held(own_site)
    assert done.path is None
    assert [one.wrong for one in done.problems.errors] == [
        "no plate of pelvis can be held against shingle-face-on"
    ]


def test_a_clip_that_is_not_there_is_refused_with_those_close_to_it(own_site: Path) -> None:
    with pytest.raises(UsageError, match="close to it: shingle-face-on"):
        held(own_site, clip="shingle-face")
