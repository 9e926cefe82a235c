"""The scripts of a theme: plain modules, each named by a hash of what is in it and in what it imports.

A module of `scripts/` imports its neighbours as `./NAME.js`, and the browser loads them without comments; the
names they import by are put in place, so that a host may let browsers keep every one of them for good.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

_IMPORT = re.compile(r'^((?:import|export)\b[^"\n]*|\} from )"\./([a-z0-9-]+)\.js";$', re.MULTILINE)
_COMMENT = re.compile(r"^[ \t]*(?://[^\n]*|/\*(?!!)(?:(?!\*/).)*\*/[ \t]*)\n", re.MULTILINE | re.DOTALL)
_BEGUN_IN_A_LINE = re.compile(r"\S.*/\*(?!.*\*/)")  # a comment that goes on in the next line


class ScriptError(Exception):
    """A theme's modules cannot be loaded as they import each other; own_themes.py reports it."""


@dataclass(frozen=True)
class Script:
    """path: from the site's root. needs: the paths of all modules that it imports, directly or not."""

    path: str
    content: bytes
    needs: tuple[str, ...]


def scripts_of(folder: Path) -> Mapping[str, Script]:
    """The modules of a folder by their names without `.js`; none where there is no folder.

    Raises ScriptError where one imports what is not there, or itself through others.
    """
    texts = {file.stem: file.read_text(encoding="utf-8") for file in sorted(folder.glob("*.js"))}
    imports = {name: [found[2] for found in _IMPORT.finditer(text)] for name, text in texts.items()}
    made: dict[str, Script] = {}
    for name in _in_order(imports):
        made[name] = _script(name, texts[name], imports[name], made)
    return made


def _in_order(imports: Mapping[str, list[str]]) -> list[str]:
    """What is imported before what imports it."""
    for name, needed in imports.items():
        for other in needed:
            if other not in imports:
                raise ScriptError(f"scripts/{name}.js imports ./{other}.js, which is not there")
    try:
        return list(TopologicalSorter(imports).static_order())
    except CycleError as error:
        ring = " → ".join(error.args[1])
        raise ScriptError(f"these scripts import each other in a ring: {ring}") from error


def _script(name: str, text: str, imports: list[str], made: Mapping[str, Script]) -> Script:
    linked = _IMPORT.sub(lambda found: f'{found[1]}"./{Path(made[found[2]].path).name}";', text)
    content = _without_comments(linked).encode()
    needs = dict.fromkeys(path for other in imports for path in (made[other].path, *made[other].needs))
    return Script(f"assets/{name}.{hashlib.sha256(content).hexdigest()[:10]}.js", content, tuple(needs))


def _without_comments(text: str) -> str:
    """Without comments that have lines of their own, a fifth of what a phone loads. `/*!` begins one that
    stays, such as a licence.

    Where a text runs over several lines (in backquotes, or by a backslash at their ends), or a comment begins
    within a line, what looks like a comment may be part of it: such a module stays as it is.
    """
    return text if any(map(_goes_on, text.split("\n"))) else _COMMENT.sub("", text)


def _goes_on(line: str) -> bool:
    return line.count("`") % 2 == 1 or line.endswith("\\") or _BEGUN_IN_A_LINE.search(line) is not None
