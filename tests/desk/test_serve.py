"""The desk as its author opens it: one real server, asked over the wire."""

from __future__ import annotations

import http.client
import json
import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

from lessonpress.cli.exit_codes import INTERRUPTED
from tests.desk.conftest import files_of

COMMAND = [sys.executable, "-c", "from lessonpress.cli import main; main()", "desk"]


class Running:
    """A desk in a process of its own, once it listens."""

    def __init__(self, site: Path) -> None:
        self.process = subprocess.Popen(
            [*COMMAND, str(site), "--no-open"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )
        assert self.process.stdout is not None
        found = re.search(r"http://\S+", self.process.stdout.readline())
        assert found, self.process.communicate()[1]
        self.address = urlsplit(found[0])
        self.token = self.address.query.removeprefix("token=")

    def connection(self) -> http.client.HTTPConnection:
        return http.client.HTTPConnection(self.address.hostname or "", self.address.port or 0)


@pytest.fixture
def running(site: Path) -> Iterator[Running]:
    desk = Running(site)
    yield desk
    desk.process.kill()
    desk.process.communicate()


def test_it_listens_on_loopback_reports_saves_and_closes_at_once(site: Path, running: Running) -> None:
    assert running.address.hostname == "127.0.0.1"
    listening = running.connection()
    listening.request("GET", "/api/events")
    stream = listening.getresponse()
    assert stream.getheader("content-type", "").startswith("text/event-stream")
    asking = running.connection()
    asking.request("GET", "/api/proof")
    if not _stands(json.loads(asking.getresponse().read())):
        _pressed(stream)
    lesson = site / "lessons" / "pelvis.md"
    lesson.write_text(lesson.read_text(encoding="utf-8") + "\nA last word.\n", encoding="utf-8")
    while (event := _event(stream))[0] != "saved":
        pass
    assert "lessons/pelvis.md" in event[1]["paths"]
    assert _pressed(stream) == {"pelvis"}
    running.process.send_signal(signal.SIGINT)
    _, said = running.process.communicate()
    assert running.process.returncode == INTERRUPTED and "Traceback" not in said
    listening.close()


def test_a_second_desk_on_the_site_learns_the_firsts_address(site: Path, running: Running) -> None:
    second = subprocess.run([*COMMAND, str(site), "--no-open"], capture_output=True, text=True, check=False)
    assert second.returncode == 2
    assert f"http://127.0.0.1:{running.address.port}/" in second.stderr
    assert running.token not in second.stderr


def test_a_desk_that_is_killed_has_lost_nothing_and_leaves_the_site_free(
    site: Path, running: Running
) -> None:
    connection = running.connection()
    headers = {"X-Desk-Token": running.token, "Content-Type": "application/json"}
    body = '{"edits": [{"mark": "belt", "frame": 1, "was": null, "to": [1.5, 2.5]}]}'
    connection.request("POST", "/api/clips/dune-face-on/marks", body, headers)
    assert connection.getresponse().status == 200
    os.kill(running.process.pid, signal.SIGKILL)
    running.process.communicate()
    assert "belt:\n  1: [1.5, 2.5]\n" in files_of(site)["clips/dune-face-on/marks.yaml"].decode()
    again = Running(site)
    again.process.kill()
    again.process.communicate()


def _event(stream: http.client.HTTPResponse) -> tuple[str, dict[str, Any]]:
    """The next event's name and data; comments are passed over."""
    name = ""
    while line := stream.readline().decode():
        if line.startswith("event: "):
            name = line[7:].strip()
        elif line.startswith("data: "):
            return name, json.loads(line[6:])
    raise AssertionError("the desk stopped telling")


def _pressed(stream: http.client.HTTPResponse) -> set[str]:
    """The lessons that are pressed from now on, until none is pending: a busy machine takes several goes."""
    pressed: set[str] = set()
    while True:
        name, proof = _event(stream)
        if name == "proof" and proof["state"] == "good":
            pressed |= set(proof["pressed"])
            if _stands(proof):
                return pressed


def _stands(proof: dict[str, Any]) -> bool:
    return proof["state"] == "good" and not proof["pending"]
