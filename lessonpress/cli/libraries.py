"""The advice printed when a video library cannot be loaded."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager

from lessonpress.records import MachineError

# file that is missing → Debian's package of it, as of Debian 12 and 13
_PACKAGES = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libSM.so.6": "libsm6",
    "libICE.so.6": "libice6",
    "libXext.so.6": "libxext6",
    "libX11.so.6": "libx11-6",
    "libxcb.so.1": "libxcb1",
    "libXrender.so.1": "libxrender1",
}
_USUAL = "libgl1 libglib2.0-0"
_MISSING = re.compile(r"(lib[\w.+-]+\.so[\w.]*): cannot open shared object file")


@contextmanager
def heavy_libraries() -> Iterator[None]:
    """For the imports of what needs video and arrays: a missing system library becomes a MachineError."""
    try:
        yield
    except ImportError as error:
        missing = _MISSING.search(str(error))
        if missing is None:
            raise
        file = missing.group(1)
        packages = _PACKAGES.get(file, _USUAL)
        raise MachineError(
            f"the video libraries need {file} from the system, which is not there; "
            f"on Debian and systems like it: apt-get install {packages}"
        ) from error
