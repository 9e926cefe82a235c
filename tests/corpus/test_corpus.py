"""A small slice of the corpus breaks no rule, and the rules see what breaks them.

The whole is `python -m tests.corpus`.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.corpus import sound, texts, videos
from tests.corpus.case import CANARY
from tests.corpus.corpus import Corpus, Judged
from tests.corpus.judged import RULES, Seen, broken, state_of
from tests.corpus.program import Done

# families whose every case in the slice is sound; the whole run tries all of them
SLICE = ("links", "files", "endless", "encodings", "rows", "lists", "unicode", "foreign")


@pytest.fixture(scope="session")
def corpus(tmp_path_factory: pytest.TempPathFactory) -> Corpus:
    folder = tmp_path_factory.mktemp("corpus")
    return Corpus(folder / "work", folder / "keep")


def test_a_slice_of_the_corpus_breaks_no_rule(corpus: Corpus) -> None:
    chosen = [case for case in corpus.cases(1, 15, 6) if case.family in SLICE]
    told: list[Judged] = []
    corpus.judge(chosen, 2, told.append)
    assert [(one.case.name, one.said, one.broken) for one in told if one.broken] == []
    assert {one.case.family for one in told} == set(SLICE)


def test_a_case_is_the_same_when_it_is_made_again(corpus: Corpus, tmp_path: Path) -> None:
    for case in corpus.cases(7, len(texts.FAMILIES), len(videos.FAMILIES)):
        if case.family == "files":  # of pipes and sockets there is nothing to compare
            continue
        made = [sound.copy(corpus.root, tmp_path / f"{case.name}-{time}" / "site") for time in (1, 2)]
        assert case.made(made[0]) == case.made(made[1])
        first, second = (state_of(root, ("build",)) for root in made)
        assert {name.split("/")[-1] for name in first} == {name.split("/")[-1] for name in second}


def _seen(tmp_path: Path, said: str = "", code: int | None = 0, page: str = "<p>a</p>") -> Seen:
    root = tmp_path / "site"
    (root / "build/site/lessons/pelvis").mkdir(parents=True)
    good = state_of(root / "build/site")
    (root / "build/site/lessons/pelvis/index.html").write_text(page)
    (root / "lessons").mkdir()
    (root / "lessons/pelvis.md").write_text("a\n")
    return Seen(root, (Done(("press", "site"), code, said),), good, {})


@pytest.mark.parametrize(
    ("rule", "how"),
    [
        ("traceback", {"said": "Traceback (most recent call last):\n"}),
        ("fault of the program", {"code": 3}),
        ("fault of the program", {"code": -11}),
        ("hang", {"code": None}),
        ("out of memory", {"said": "MemoryError", "code": 3}),
        ("good site harmed", {"code": 1}),
        ("long list", {"said": "x" * 1_000_000}),
        ("script in a page", {"page": f"<p><img src=x onerror={CANARY}()></p>"}),
        ("script in a page", {"page": f"<style>a</style><script>{CANARY}()</script>"}),
        ("script in a page", {"page": f"<a href='java\tscript:{CANARY}()'>a</a>"}),
        ("script in a page", {"page": f"<base href='https://{CANARY}.example/'>"}),
        ("published from outside", {"page": "<p>xprivate</p>"}),
    ],
)
def test_a_rule_sees_what_breaks_it(tmp_path: Path, rule: str, how: dict[str, object]) -> None:
    assert rule in RULES
    assert rule in broken(_seen(tmp_path, **how))  # type: ignore[arg-type]


def test_a_script_that_is_text_breaks_no_rule(tmp_path: Path) -> None:
    page = f"<p title='javascript:{CANARY}()'>&lt;script&gt;{CANARY}()&lt;/script&gt;</p>"
    assert list(broken(_seen(tmp_path, page=page))) == []


def test_a_figure_that_is_lost_a_file_outside_and_a_command_run_are_seen(tmp_path: Path) -> None:
    seen = _seen(tmp_path)
    (seen.root / "lessons/pelvis.md").write_text("```frame\nat: top\n```\n")
    (tmp_path / CANARY).touch()
    assert set(broken(seen)) == {"figures lost", "write outside the site", "command run"}
