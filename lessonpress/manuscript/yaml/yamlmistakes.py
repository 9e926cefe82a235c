"""Syntax errors of YAML in words an author can act on."""

from __future__ import annotations

import re

import yaml

from lessonpress.manuscript.text.passage import Passage
from lessonpress.records import Location, Problem

# what PyYAML's scanner and parser say → what is wrong, what is right. The first that matches counts.
# "context" at the end: the location is where the thing began, not where the parser gave up.
MISTAKES: tuple[tuple[str, str, str, str], ...] = (
    (
        r"mapping values are not allowed",
        "a second colon with a space after it is in this line",
        "put quotes round text that holds a colon and a space",
        "",
    ),
    (r"found character '\\t'", "there is a tab where YAML has spaces", "indent with spaces", ""),
    (
        r"found character '(.)' that cannot start",
        "text cannot begin with `{0}` here",
        "put quotes round it",
        "",
    ),
    (
        r"while scanning a quoted scalar",
        "the quote opened here is not closed, or holds what it cannot",
        "close it, or use single quotes where a backslash is meant as it is",
        "context",
    ),
    (
        r"unknown escape character|expected escape sequence",
        "a backslash in double quotes begins an escape that YAML does not know",
        "use single quotes, or write the backslash twice",
        "",
    ),
    (
        r"while scanning an? (?:anchor|alias)",
        "`&` and `*` have a meaning at the start of a value",
        "put quotes round it",
        "context",
    ),
    (
        r"while (?:scanning|parsing) a tag|found undefined tag handle",
        "`!` has a meaning at the start of a value",
        "put quotes round it",
        "",
    ),
    (
        r"while scanning a block scalar",
        "after `|` or `>` the text starts on the next line",
        "start a new line there",
        "",
    ),
    (
        r"did not find expected ',' or '\]'|expected ',' or '\]'",
        "the list opened here is not closed",
        "close it with `]`",
        "context",
    ),
    (
        r"did not find expected ',' or '\}'|expected ',' or '\}'",
        "the mapping opened here is not closed",
        "close it with `}`",
        "context",
    ),
    (
        r"could not find expected ':'",
        "this line has no colon with a space after it",
        "write `key: value`, or indent text that goes on from the line above",
        "context",
    ),
    (
        r"expected <block end>, but found '(?:<block|-|\?)|(?:sequence entries|mapping keys) are not allowed",
        "this line is not indented as the lines above it",
        "lines of one list or mapping begin in the same column",
        "",
    ),
    (
        r"expected <block end>, but found",
        "text goes on where the value has ended",
        "put quotes round the whole value",
        "",
    ),
    (
        r"expected the node content|expected <document start>",
        "this cannot be written here",
        "put quotes round it if it is text",
        "",
    ),
    (r"%|directive", "a line cannot begin with `%`", "put quotes round it", ""),
)


def syntax_mistake(broken: yaml.YAMLError, passage: Passage) -> Problem:
    """The problem to report for an error of PyYAML's, at the location it names."""
    if not isinstance(broken, yaml.MarkedYAMLError):
        return _unread(passage)
    said = f"{broken.context or ''}; {broken.problem or ''}"
    for pattern, wrong, right, where in MISTAKES:
        match = re.search(pattern, said)
        if match is None:
            continue
        mark = (broken.context_mark if where else None) or broken.problem_mark or broken.context_mark
        location = passage.at(mark.index if mark else 0)
        return (
            _measure_in_braces(location)
            or _indented(location, wrong)
            or Problem(location, wrong.format(*match.groups()), right, location.source)
        )
    mark = broken.problem_mark or broken.context_mark
    location = passage.at(mark.index if mark else 0)
    return Problem(location, "this is not YAML", "write `key: value` lines", location.source)


def _unread(passage: Passage) -> Problem:
    location = passage.at(0)
    return Problem(location, "this is not YAML", "write `key: value` lines", location.source)


_BRACES = re.compile(r"\s*(?:- )?(?P<key>[\w-]+):\s+(?P<value>\{[^{}]*\}.*\S)")


def _measure_in_braces(location: Location) -> Problem | None:
    """The mistake of a line where a measure in braces opens the value: it is what needs the quotes."""
    braces = _BRACES.match(location.source)
    if braces is None or location.column <= braces.start("value"):
        return None
    start = Location(location.path, location.line, braces.start("value") + 1, location.source)
    right = f'put quotes round it: `{braces["key"]}: "{braces["value"]}"`'
    return Problem(start, "braces begin a mapping, and text goes on after it", right, location.source)


_LONE_KEY = re.compile(r"\s+[\w-]+")


def _indented(location: Location, wrong: str) -> Problem | None:
    """The mistake of a second colon that is in a line of its own: the line should not be indented."""
    if wrong != MISTAKES[0][1] or not _LONE_KEY.fullmatch(location.source[: location.column - 1]):
        return None
    first = len(location.source) - len(location.source.lstrip()) + 1
    start = Location(location.path, location.line, first, location.source)
    wrong = "this line is indented as if it went on from the one above"
    return Problem(start, wrong, "lines of one mapping begin in the same column", location.source)
