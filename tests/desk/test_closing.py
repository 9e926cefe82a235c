"""How a desk ends that is interrupted: at once, without a traceback, also in the middle of work."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from lessonpress.cli.exit_codes import INTERRUPTED

# The program as it is installed, but for one thing: the curve of motion says when it is begun and never ends.
ENDLESS = """
import sys, threading
from unittest.mock import patch
from lessonpress.desk.views import motion

def endless(pictures):
    next(iter(pictures))
    print("begun", flush=True)
    threading.Event().wait()

patch.object(motion, "picture_changes", endless).start()
from lessonpress.cli import main
main()
"""


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM], ids=lambda one: one.name)
def test_a_desk_interrupted_while_motion_is_computed_ends_quietly(site: Path, how: signal.Signals) -> None:
    command = [sys.executable, "-c", ENDLESS, "desk", str(site), "--no-open"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as desk:
        try:
            assert desk.stdout is not None
            found = re.search(r"http://\S+", desk.stdout.readline())
            assert found, desk.communicate()[1]
            address = urlsplit(found[0])
            page = HTTPConnection(address.hostname or "", address.port)
            page.request("GET", "/api/clips/dune-face-on/motion")
            assert "begun\n" in iter(desk.stdout.readline, "")
            desk.send_signal(how)
            _, told = desk.communicate()
        finally:
            desk.kill()
    assert desk.returncode == INTERRUPTED == 130
    assert [line for line in told.splitlines() if line] == [
        "Close it with Ctrl-C. Everything is kept as it is changed.",
        "The desk is closed.",
        "lessonpress: interrupted; what was there before is unchanged",
    ]
