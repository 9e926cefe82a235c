"""The exit codes of the program, and the sentence printed for each way it ends.

| code | when |
|---|---|
| 0 | done, warnings included |
| 1 | faults in the site (already printed) |
| 2 | what was asked for cannot be done as asked |
| 3 | the machine, or a fault of the program's own: one line, and a report file |
| 130 | interrupted, by Ctrl-C or by SIGTERM |
"""

from __future__ import annotations

import contextlib
import errno
import os
import signal
import sys
import threading
from collections.abc import Callable
from concurrent.futures import BrokenExecutor
from types import FrameType
from typing import NoReturn

import click

from lessonpress.records import MachineError, UsageError, shortened

DONE, FAULTS_IN_SITE, USAGE, MACHINE, INTERRUPTED = 0, 1, 2, 3, 130


class SiteProblemsError(Exception):
    """The site has faults and they have been reported; nothing more to say."""


def exit_code_of(command: Callable[[], object]) -> int:
    """Runs the command and gives the code to leave with. Only this function knows all of them."""
    with contextlib.suppress(ValueError):  # not the main thread: signals are somebody else's there
        signal.signal(signal.SIGTERM, _as_interrupt)
    _keep_the_tracker_quiet()
    try:
        result = command()
        sys.stdout.flush()
    except SiteProblemsError:
        return FAULTS_IN_SITE
    except (click.Abort, KeyboardInterrupt):
        _say("interrupted; what was there before is unchanged")
        return INTERRUPTED
    except click.ClickException as error:
        error.show(file=sys.stderr)
        return USAGE
    except UsageError as error:
        _say(str(error))
        return USAGE
    except MachineError as error:
        _say(f"{error} ({_report(error)})")
        return MACHINE
    except BrokenExecutor as error:
        # The system ends the largest process when memory runs out, and that is a worker with a video open.
        lost = (
            "a worker was ended from outside, perhaps as memory ran out; run it again, what was made is kept"
        )
        _say(f"{lost} ({_report(error)})")
        return MACHINE
    except BrokenPipeError:
        # The reader of our output has closed it (`| head`): nothing is wrong, and nothing is left to say.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except OSError as error:
        if error.errno == errno.ENAMETOOLONG:  # typed: of the site's texts each such name has its place told
            name = shortened(str(error.filename or "this name"))
            _say(f"{name} is too long for a file; give a shorter name")
            return USAGE
        _say(f"{_of_the_machine(error)} ({_report(error)})")
        return MACHINE
    except Exception as error:
        _say(f"a fault of the program's own, {type(error).__name__}: {_first_line(error)} ({_report(error)})")
        return MACHINE
    return result if isinstance(result, int) else DONE


def exit_with(code: int) -> NoReturn:
    """Ends the program.

    An interrupt ends it also where threads are at work, for which Python would wait. Nothing is lost by it:
    files are written whole or not at all, and workers go with the program.
    """
    at_work = [one for one in threading.enumerate() if one is not threading.main_thread() and not one.daemon]
    if code == INTERRUPTED and at_work:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)
    sys.exit(code)


def _keep_the_tracker_quiet() -> None:
    """After an interrupt Python's own tracker of semaphores clears away what workers left, and warns of it.

    It is a process begun with the first worker, so it reads its warnings from the environment.
    """
    others = os.environ.get("PYTHONWARNINGS", "")
    os.environ["PYTHONWARNINGS"] = ",".join(filter(None, (others, "ignore:resource_tracker")))


def _as_interrupt(_number: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def _say(sentence: str) -> None:
    print(f"lessonpress: {sentence}", file=sys.stderr)


def _first_line(error: Exception) -> str:
    return next(iter(str(error).splitlines()), "")


_MACHINE = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EACCES: "no permission",
    errno.EPERM: "no permission",
    errno.EROFS: "the disk can only be read",
    errno.EMFILE: "too many files are open",
    errno.ENOMEM: "there is not enough memory",
}


def _of_the_machine(error: OSError) -> str:
    words = _MACHINE.get(error.errno or 0) or error.strerror or str(error)
    return f"{words}: {error.filename}" if error.filename else words


def _report(error: BaseException) -> str:
    """Writes the report and says where it is."""
    from lessonpress.cli.report import write_report

    path = write_report(error)
    return "no report could be written" if path is None else f"report: {path}"
