"""An author's own picture of any kind, by what its file is called."""

from __future__ import annotations

from lessonpress.footage.stills.names import VECTOR, suffix_of
from lessonpress.footage.stills.photograph import photograph
from lessonpress.footage.stills.vector_drawing import vector_drawing


def still(content: bytes, path: str) -> bytes:
    """The picture as it is published. Raises FootageError where it cannot be. path: its file's."""
    suffix = suffix_of(path)
    return vector_drawing(content) if suffix == VECTOR else photograph(content, suffix)
