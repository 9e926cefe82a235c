"""The index that a reader's browser searches: records in, files out, made by pagefind.

The same records give the same bytes, whatever order they come in, as long as they have no filters: those
pagefind writes in an order of its own at each run. So topics, events and measures are words of the records.
"""

from __future__ import annotations

import importlib.util
import json
import subprocess
from collections.abc import Iterator, Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

SEARCH_LIBRARY = "pagefind-bin"
_ENTRY = "pagefind-entry.json"
_SCRIPTS = ("pagefind.js", "pagefind-worker.js")
# of what else it brings: controls for pages that have none of their own, programs for other languages
_NOT_NEEDED = ("*.css", "*.js", "wasm.*.pagefind")


def can_index() -> bool:
    """Whether the indexer is there: it is a program, which not every machine has a wheel of."""
    return importlib.util.find_spec("pagefind_bin") is not None


def index_of(records: Mapping[str, bytes], language: str) -> Iterator[tuple[str, bytes]]:
    """Path and bytes of each file of the index. records: HTML by the path of the page that is found.

    language: a BCP 47 tag; words are cut to their stems in its way, where the indexer knows one. Raises
    OSError where the indexer fails.
    """
    with TemporaryDirectory(prefix="lessonpress-search-") as made:
        records_folder, index = Path(made, "records"), Path(made, "index")
        for path, content in records.items():
            file = records_folder / path
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(content)
        _run(records_folder, index, language)
        needed = {*_SCRIPTS, *_programs(index)}
        for file in sorted(index.rglob("*")):
            path = file.relative_to(index).as_posix()
            if file.is_file() and (path in needed or not any(file.match(one) for one in _NOT_NEEDED)):
                yield path, file.read_bytes()


def _programs(index: Path) -> Iterator[str]:
    """The WebAssembly that the index is asked by."""
    languages = json.loads((index / _ENTRY).read_text(encoding="utf-8"))["languages"]
    for one in languages.values():
        yield f"wasm.{one['wasm'] or 'unknown'}.pagefind"


def _run(records: Path, index: Path, language: str) -> None:
    from pagefind_bin import get_executable

    asked = ["--site", str(records), "--output-path", str(index), "--force-language", language.split("-")[0]]
    # An environment and a folder of its own: it would take settings from either.
    done = subprocess.run(
        [str(get_executable()), *asked, "--keep-index-url", "--quiet"],
        cwd=records,
        env={},
        capture_output=True,
        check=False,
    )
    if done.returncode:
        said = (done.stderr or done.stdout).decode(errors="replace").strip()
        raise OSError(f"the index for searching could not be made: {said[-500:]}")
