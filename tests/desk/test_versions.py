"""A file's version."""

from __future__ import annotations

from lessonpress.desk.files.versions import version_of


def test_a_version_is_the_files_sha_256() -> None:
    """FIPS 180-4, example "abc" of the standard's test vectors."""
    assert version_of(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert version_of(None) == ""
