"""Asks the program in this process, as its entry does."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator

import pytest

from lessonpress.cli.commands import lessonpress
from lessonpress.cli.exit_codes import exit_code_of

Ask = Callable[..., tuple[int, str, str]]


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Iterator[Ask]:
    """ask(*words) gives its exit code, standard output and standard error."""
    kept = signal.getsignal(signal.SIGTERM)

    def asked(*words: object) -> tuple[int, str, str]:
        given = [str(word) for word in words]
        code = exit_code_of(lambda: lessonpress(args=given, prog_name="lessonpress", standalone_mode=False))
        said = capsys.readouterr()
        return code, said.out, said.err

    yield asked
    signal.signal(signal.SIGTERM, kept)
