"""Workers of a cluster make what one process makes, also where one of them is killed in the middle."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from lessonpress.press import cluster
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.press.steps import apart
from lessonpress.records.fault import UsageError
from tests.press.conftest import Edited, files

distributed = pytest.importorskip("distributed", reason="the extra `cluster` is not installed")


@pytest.fixture(scope="module")
def local() -> Iterator[Any]:
    """A cluster of two processes on this machine."""
    made = distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, silence_logs=50
    )
    with made, made.get_client() as client:
        client.wait_for_workers(2)
        yield client


def _press(root: Path, out: Path, client: Any) -> Pressed:
    pressed = press(root, out, Silent(), own_themes=True, cluster=client.scheduler.address)
    assert pressed.summary is not None, pressed.problems.errors
    return pressed


def test_a_worker_that_is_killed_in_the_middle_costs_nothing_but_time(
    edited: Edited, unpressed: Path, tmp_path: Path, local: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart, "WORTH_A_POOL", 1)
    killed: list[int] = []
    submit, processes = cluster._Spread.submit, local.run(os.getpid)

    def submit_and_kill(self: Any, fn: Any, /, *given: Any) -> Any:
        future = submit(self, fn, *given)
        if fn is apart._make and not killed:
            while not (busy := [worker for worker, jobs in local.processing().items() if jobs]):
                time.sleep(0.01)
            killed.append(processes[busy[0]])
            os.kill(killed[0], signal.SIGKILL)
        return future

    monkeypatch.setattr(cluster._Spread, "submit", submit_and_kill)
    made = _press(unpressed, tmp_path / "site", local)
    assert killed
    assert files(tmp_path / "site") == files(edited.out)
    assert sorted(made.redone) == sorted(edited.made.redone)
    _see_what_changed_since(unpressed, tmp_path / "site", local)


def _see_what_changed_since(root: Path, out: Path, local: Any) -> None:
    """A worker outlives a press: what it knows of the files is of that press alone."""
    (root / "lessons" / "months.md").unlink()
    for name in ("two", "three"):
        lesson = root / "lessons" / f"{name}.md"
        lesson.write_text(lesson.read_text(encoding="utf-8").replace("lean", "slant"), encoding="utf-8")
    made = _press(root, out, local)
    assert {"lesson two measured", "lesson three measured"} <= {one.product for one in made.redone}
    assert "slant," in (out / "lessons" / "two" / "measures.csv").read_text(encoding="utf-8")


def test_a_worker_that_cannot_see_the_site_is_refused(
    unpressed: Path, tmp_path: Path, local: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = cluster._here
    elsewhere = {"tcp://a.worker": here(unpressed, cluster.Cache(tmp_path).entry("cluster", "none"))}
    monkeypatch.setattr(distributed.Client, "run", lambda *_: elsewhere)
    with pytest.raises(UsageError, match=r"the worker tcp://a\.worker does not see .* all machines share"):
        press(unpressed, tmp_path / "site", Silent(), cluster=local.scheduler.address)
    other = here(unpressed, cluster.Cache(tmp_path).entry("cluster", "none"))._replace(program="", sees=True)
    monkeypatch.setattr(distributed.Client, "run", lambda *_: {"tcp://a.worker": other})
    with pytest.raises(UsageError, match="is another version of Lessonpress"):
        press(unpressed, tmp_path / "site", Silent(), cluster=local.scheduler.address)
    assert not (tmp_path / "site").exists()


def test_where_no_cluster_is_it_says_so(
    unpressed: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cluster, "_PATIENCE", 1)
    for address in ("tcp://127.0.0.1:1", "nonsense://"):
        with pytest.raises(UsageError, match="no cluster answers at"):
            press(unpressed, tmp_path / "site", Silent(), cluster=address)
