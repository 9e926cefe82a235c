"""The wheel alone, on every Python of this machine, with the newest and the lowest libraries that it allows.

    python -m tests.packaging.matrix

builds the wheel, installs it into a fresh environment for each Python from 3.11 on that answers, once with
each choice of versions, and there lays out the starter, presses it, opens the desk and ingests a film of each
kind. It prints a row a trial, the versions that were tried, and the Pythons that are not there.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.request import urlopen

import numpy as np
from uv import find_uv_bin

from tests.studio import strip
from tests.studio.film import encode

ROOT = Path(__file__).parents[2]
OLDEST, NEWEST_KNOWN = 11, 14  # minor versions of Python 3: README's first, and the last one looked for
CHOICES = {"newest": "highest", "lowest": "lowest-direct"}
FILMS = {"h264.mp4": "libx264", "hevc.mp4": "libx265", "vp9.webm": "libvpx-vp9"}
PICTURES = 12
LIBRARIES = re.compile(r'^  "([A-Za-z0-9.-]+?)[><=]', re.MULTILINE)


class FailedError(Exception):
    """A step of a trial failed; str() is what it said."""


@dataclass(frozen=True)
class Trial:
    """What came of one Python with one choice of versions. versions: by library. fault: "" where all held."""

    python: str
    choice: str
    versions: Mapping[str, str]
    fault: str


def pythons() -> dict[str, Path | None]:
    """ "3.N" → the interpreter on PATH, or kept by pyenv, that answers as that version, or None."""
    return {f"3.{minor}": _python(minor) for minor in range(OLDEST, NEWEST_KNOWN + 1)}


def _python(minor: int) -> Path | None:
    kept = Path(os.environ.get("PYENV_ROOT", Path.home() / ".pyenv")) / "versions"
    found = [shutil.which(f"python3.{minor}"), *map(str, sorted(kept.glob(f"3.{minor}.*/bin/python")))]
    for candidate in filter(None, found):
        try:
            done = subprocess.run(
                [candidate, "-c", "import sys, venv; print(*sys.version_info[:2], sep='.')"],
                capture_output=True,
                text=True,
                check=False,
            )
        except OSError:
            continue
        if done.stdout.strip() == f"3.{minor}":
            return Path(candidate)
    return None


def wheel_of(root: Path, folder: Path) -> Path:
    """Builds the wheel of the repository at `root` into a folder."""
    _run([sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(folder)], root)
    (made,) = folder.glob("*.whl")
    return made


def films(folder: Path) -> list[Path]:
    """A small film of each kind that the program promises to read."""
    pictures = [strip.stamp(np.full((180, 320, 3), 90, np.uint8), n) for n in range(PICTURES)]
    return [encode(folder / name, pictures, codec=codec) for name, codec in FILMS.items()]


def tried(python: Path, choice: str, wheel: Path, shown: list[Path], folder: Path) -> Trial:
    """Installs the wheel alone into a fresh environment in an empty folder, and uses it."""
    named = _run([str(python), "-c", "import sys; print(*sys.version_info[:3], sep='.')"], folder).strip()
    versions: dict[str, str] = {}
    try:
        program = _installed(python, choice, wheel, folder)
        listed = _run([find_uv_bin(), "pip", "freeze", "--python", str(program.with_name("python"))], folder)
        versions = dict(line.split("==") for line in listed.splitlines() if "==" in line)
        for step in (_press, _desk, _ingest(shown)):
            step(program, folder)
    except FailedError as failed:
        return Trial(named, choice, versions, str(failed))
    return Trial(named, choice, versions, "")


def _installed(python: Path, choice: str, wheel: Path, folder: Path) -> Path:
    """The program in an environment of its own: the wheel, what it asks for as wheels, at these versions."""
    pip, environment = [find_uv_bin(), "pip"], folder / "environment"
    wheels_only = ["--only-binary", ":all:", "--quiet"]
    _run([str(python), "-m", "venv", "--without-pip", str(environment)], folder)
    interpreter = environment / "bin" / "python"
    wanted = folder / "versions.txt"
    which = ["--resolution", CHOICES[choice], "--python", str(interpreter)]
    _run([*pip, "compile", *which, *wheels_only, "-o", str(wanted), str(ROOT / "pyproject.toml")], folder)
    into = ["--python", str(interpreter), *wheels_only]
    _run([*pip, "install", *into, "--constraint", str(wanted), str(wheel)], folder)
    return interpreter.with_name("lessonpress")


def _press(program: Path, folder: Path) -> None:
    _run([str(program), "start", "notebook"], folder)
    _run([str(program), "press", "notebook"], folder)
    page = folder / "notebook" / "build" / "site" / "lessons" / "first-lesson" / "index.html"
    if "shift" not in page.read_text(encoding="utf-8"):
        raise FailedError("the starter's first lesson is pressed without its shift")


def _desk(program: Path, folder: Path) -> None:
    """Opens the desk and asks it for its page."""
    words = [str(program), "desk", "notebook", "--no-open"]
    desk = subprocess.Popen(
        words, cwd=folder, env=_alone(), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    try:
        assert desk.stdout is not None
        address = re.search(r"http://\S+", desk.stdout.readline())
        if address is None:
            raise FailedError("the desk does not open")
        with urlopen(address[0], timeout=60) as answer:
            if answer.status != 200:
                raise FailedError(f"the desk answers {answer.status}")
    finally:
        desk.send_signal(signal.SIGINT)
        desk.communicate()


def _ingest(shown: list[Path]) -> Callable[[Path, Path], None]:
    def step(program: Path, folder: Path) -> None:
        for film in shown:
            _run([str(program), "ingest", str(film), "--site", "notebook"], folder)
            card = folder / "notebook" / "clips" / film.stem / "clip.yaml"
            if f"{PICTURES} pictures of 320 × 180 px" not in card.read_text(encoding="utf-8"):
                raise FailedError(f"{film.name} is not read as {PICTURES} pictures of 320 × 180 px")

    return step


def _run(words: list[str], folder: Path) -> str:
    done = subprocess.run(words, cwd=folder, env=_alone(), capture_output=True, text=True, check=False)
    if done.returncode:
        raise FailedError(f"{Path(words[0]).name} {' '.join(words[1:3])}: {done.stderr.strip()[-2000:]}")
    return done.stdout


def _alone() -> dict[str, str]:
    """The environment without anything that would let the repository's own modules in."""
    return {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}


def _trials(wheel: Path, shown: list[Path], folder: Path) -> Iterator[Trial]:
    for name, python in pythons().items():
        for choice in CHOICES if python else ():
            assert python is not None
            place = folder / f"{name}-{choice}"
            place.mkdir()
            yield tried(python, choice, wheel, shown, place)
            shutil.rmtree(place)


def main() -> int:
    """Prints the table; 1 where a trial failed."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        wheel, shown = wheel_of(ROOT, folder), films(folder)
        trials = []
        for trial in _trials(wheel, shown, folder):
            print(f"Python {trial.python}, {trial.choice}: {trial.fault or 'sound'}", flush=True)
            trials.append(trial)
    for name in (name for name, python in pythons().items() if python is None):
        print(f"Python {name}: not on this machine, not tried")
    print()
    print(table(trials))
    return int(any(trial.fault for trial in trials))


def table(trials: list[Trial]) -> str:
    """The trials as a Markdown table: a column a trial, a row a library that the program names."""
    named = sorted(set(LIBRARIES.findall(_dependencies())))
    heads = [f"{trial.python} {trial.choice}" for trial in trials]
    rows = [[name, *(trial.versions.get(name.replace(".", "-"), "?") for trial in trials)] for name in named]
    rows.append(["result", *("failed" if trial.fault else "sound" for trial in trials)])
    lines = [["library", *heads], ["---"] * (len(trials) + 1), *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)


def _dependencies() -> str:
    written = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    return written.partition("dependencies = [")[2].partition("]\n")[0]


if __name__ == "__main__":
    sys.exit(main())
