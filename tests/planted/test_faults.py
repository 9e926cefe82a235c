"""The listed faults can be planted in the program as it is now."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.planted.faults import FAULTS, Fault

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: f"{fault.file}: {fault.was}")
def test_a_fault_is_planted_at_one_place_and_has_a_test(fault: Fault) -> None:
    assert (ROOT / fault.file).read_text(encoding="utf-8").count(fault.was) == 1
    assert (ROOT / fault.tests).exists()
