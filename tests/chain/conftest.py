"""Films that several tests of the chain share, drawn and encoded once a run."""

from __future__ import annotations

import pytest

from lessonpress.records.measure import Measure
from tests.chain.chain import numbers, root_of, write_site
from tests.chain.swing import CARD, FOLLOWED, RATE, ask_all, place
from tests.studio.clip import MadeClip, frame_times, make_clip
from tests.studio.swingers import DUNE


@pytest.fixture(scope="session")
def kinds_clip(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """A right-handed swing from face on, filmed and encoded once, in a site of its own."""
    root = write_site(tmp_path_factory.mktemp("kinds"))
    times = frame_times(1.2, RATE)
    return make_clip(root, DUNE, rate=RATE, times=times, strip=True, dots=FOLLOWED, card=CARD)


@pytest.fixture(scope="session")
def exact(kinds_clip: MadeClip) -> dict[str, Measure]:
    place(kinds_clip, None)
    ask_all(kinds_clip)
    return numbers(root_of(kinds_clip), "kinds")
