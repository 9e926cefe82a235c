"""Jobs are spread through the Executor interface; one that fails does not hide the others."""

from __future__ import annotations

import gc
import multiprocessing
import os
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import pytest

from lessonpress.footage.video.failure import FootageError
from lessonpress.press.parallel import Inline, executor_for, run_parallel, sharing_a_pool
from lessonpress.records.problem import Location, Problem


def half(number: int) -> float:
    if number % 2:
        raise FootageError(f"{number} is odd", "give an even one")
    return number / 2


def problem_of(line: int) -> Problem:
    return Problem(
        Location("lessons/膝.md", line, 3), "wrong", "right", "- tilt: [navle, c7]", ("navel",), "warning"
    )


@pytest.mark.parametrize("workers", [1, 2])
def test_every_job_comes_back_with_its_own_outcome(workers: int) -> None:
    with executor_for(4, workers=workers) as executor:
        done = dict(run_parallel(half, [2, 3, 4, 5], executor))
    assert {job: future.result() for job, future in done.items() if future.exception() is None} == {
        2: 1,
        4: 2,
    }
    failed = done[3].exception()
    assert isinstance(failed, FootageError)
    assert (failed.reason, failed.way_out) == ("3 is odd", "give an even one")


def collected_after(_: int) -> tuple[int, int, int]:
    return gc.get_threshold()


def test_a_problem_comes_back_whole_from_a_worker_which_collects_garbage_as_its_parent_does() -> None:
    with executor_for(2, workers=2) as executor:
        found = {job: future.result() for job, future in run_parallel(problem_of, [7, 8], executor)}
        assert executor.submit(collected_after, 0).result() == gc.get_threshold() != (700, 10, 10)
    assert found == {line: problem_of(line) for line in (7, 8)}


def test_stopping_early_leaves_no_worker_behind() -> None:
    executor = executor_for(50, workers=2)
    workers: list[int | None] = []
    with pytest.raises(KeyboardInterrupt), executor:
        for _ in run_parallel(half, range(50), executor):
            workers += [child.pid for child in multiprocessing.active_children()]
            raise KeyboardInterrupt
    assert len(workers) == 2
    for worker in workers:
        with pytest.raises(ProcessLookupError):
            os.kill(worker or 0, 0)


def own_pid(_: int) -> int:
    return os.getpid()


def nested_pid(_: int) -> tuple[int, int]:
    """This process, and the one in which it gets several jobs done."""
    with executor_for(5) as executor:
        return os.getpid(), executor.submit(os.getpid).result()


def test_all_jobs_of_a_press_share_its_workers_which_end_with_it() -> None:
    workers: set[int] = set()
    with sharing_a_pool(2):
        for _ in range(3):
            with executor_for(4) as executor:
                workers |= {future.result() for _, future in run_parallel(own_pid, range(4), executor)}
        assert os.getpid() not in workers
        assert len(workers) <= 2
        with executor_for(2) as executor:
            pids = [future.result() for _, future in run_parallel(nested_pid, range(2), executor)]
        assert all(here == there for here, there in pids)  # a worker begins none of its own
    assert not multiprocessing.active_children()
    with sharing_a_pool(1):
        assert isinstance(executor_for(4), Inline)


POOL_UNTIL_KILLED = """
import multiprocessing, time
from lessonpress.press.parallel import executor_for

if __name__ == "__main__":
    with executor_for(2, workers=2) as executor:
        jobs = [executor.submit(time.sleep, 600) for _ in range(2)]
        print(*[child.pid for child in multiprocessing.active_children()], flush=True)
        jobs[0].result()
"""


def test_workers_go_when_their_parent_is_killed(tmp_path: Path) -> None:
    script = tmp_path / "pool.py"
    script.write_text(POOL_UNTIL_KILLED, encoding="utf-8")
    with subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True) as parent:
        assert parent.stdout is not None
        workers = parent.stdout.readline().split()
        parent.kill()
        parent.communicate(timeout=60)  # ends when no worker holds the pipe's other end any more
    assert len(workers) == 2


def test_a_single_job_stays_in_this_process_and_several_go_to_a_pool() -> None:
    assert isinstance(executor_for(1, workers=8), Inline)
    assert isinstance(executor_for(0, workers=8), Inline)
    pool = executor_for(3, workers=8)
    assert isinstance(pool, ProcessPoolExecutor)
    pool.shutdown()
