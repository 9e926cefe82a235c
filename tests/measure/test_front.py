"""The front of the room: every name it lists is there, and what needs no arrays imports none."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from lessonpress import measure

STUB = Path(measure.__file__).with_suffix(".pyi")


@pytest.mark.parametrize("name", measure.__all__)
def test_a_listed_name_is_there(name: str) -> None:
    assert getattr(measure, name) is not None


def test_the_stub_lists_each_name_once_for_the_type_checker_too() -> None:
    """`X as X` is how a stub says that it hands a name on (typing documentation, stub files, re-exports)."""
    for line in STUB.read_text(encoding="utf-8").splitlines():
        name = line.split()[3]
        assert line.endswith(f"import {name} as {name}")


def test_units_and_printing_import_no_arrays() -> None:
    program = (
        "import sys; from lessonpress.measure import Units, SIZE_OF_UNIT, printed, way, answer; "
        "print(*(name for name in ('numpy', 'uncertainties', 'cv2', 'scipy') if name in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""


def test_a_survey_imports_no_pictures() -> None:
    program = (
        "import sys; from lessonpress.measure import Survey; "
        "print(*(name for name in ('cv2', 'av', 'PIL', 'scipy') if name in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""
