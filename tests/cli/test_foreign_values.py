"""Whatever is written in any field of any text, the program answers with messages and never with a fault.

The fields are those of the corpus's sound site; the values are its own, and what Hypothesis makes up.
"""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.corpus import sound
from tests.corpus.texts.fields import replace_a_field
from tests.corpus.texts.scripts import SCRIPTS
from tests.corpus.texts.slips import PLACED, Reader
from tests.corpus.texts.unicode_tricks import ESCAPED, TRICKS
from tests.corpus.texts.values import VALUES

VALUE = st.one_of(
    st.sampled_from((*VALUES, *TRICKS, *ESCAPED, *SCRIPTS)),
    st.text(max_size=40),
    st.integers(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.lists(st.integers(), max_size=5),
    st.dictionaries(st.text("abc", max_size=3), st.integers(), max_size=3),
)


@pytest.fixture(scope="module")
def sound_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return sound.written(tmp_path_factory.mktemp("sound") / "site", PLACED)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.integers(0, 10**6), VALUE)
def test_no_value_in_any_field_ends_in_a_fault(sound_site: Path, seed: int, value: object) -> None:
    root = sound_site.with_name("spoilt")
    shutil.rmtree(root, ignore_errors=True)
    shutil.copytree(sound_site, root)
    replace_a_field(root, random.Random(seed), value)
    Reader(root).told()


def test_the_sound_site_has_no_mistake(sound_site: Path) -> None:
    assert Reader(sound_site).told() == []
