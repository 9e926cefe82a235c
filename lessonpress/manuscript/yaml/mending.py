"""Reads a figure's YAML as it was meant where a common slip breaks it; each slip is reported."""

from __future__ import annotations

import re
from dataclasses import dataclass

from lessonpress.manuscript.text.passage import Passage
from lessonpress.manuscript.yaml.nodes import Mapping, Node, compose_yaml
from lessonpress.records import Problem, Problems


@dataclass(frozen=True)
class Mend:
    """pattern → meant, in every line. wrong, right: for the first place it matches, its groups filled in."""

    pattern: re.Pattern[str]
    meant: str
    wrong: str
    right: str


MENDS = (
    Mend(
        re.compile("[“”„‟]"),
        '"',
        "curly quotes are letters here, and close nothing",
        'use straight quotes: `"`',
    ),
    Mend(
        re.compile("[‘’‚]"),
        "'",
        "curly quotes are letters here, and close nothing",
        "use straight quotes: `'`",
    ),
    Mend(re.compile(r"\t"), " ", "there is a tab where YAML has spaces", "indent with spaces"),
    Mend(
        re.compile(r"^(?P<before>\s*(?:- )?)(?P<key>[a-z]+):(?P<value>[^\s:/].*)$", re.MULTILINE),
        r"\g<before>\g<key>: \g<value>",
        "no space follows the colon of `{key}`",
        "write `{key}: {value}`",
    ),
)


def compose_mended(passage: Passage, problems: Problems) -> Node | None:
    """As `compose_yaml`; where that fails and mending one slip, or all, makes a mapping, that mapping."""
    as_written = Problems()
    node = compose_yaml(passage, as_written)
    if isinstance(node, Mapping):
        problems.extend(as_written.collected)
        return node
    for mends in (*((mend,) for mend in MENDS), MENDS):
        meant, slips = _mended(passage, mends)
        as_meant = Problems()
        mended = compose_yaml(meant, as_meant) if slips else None
        if isinstance(mended, Mapping):
            problems.extend([*slips, *as_meant.collected])
            return mended
    problems.extend(as_written.collected)
    return node


def _mended(passage: Passage, mends: tuple[Mend, ...]) -> tuple[Passage, list[Problem]]:
    """The passage with those slips put right, and a problem for the first of each kind."""
    text, slips = passage.text, []
    for mend in mends:
        first = mend.pattern.search(passage.text)
        if first is None:
            continue
        text = mend.pattern.sub(mend.meant, text)
        groups = first.groupdict()
        location = passage.at(first.start("key") if "key" in groups else first.start())
        slips.append(Problem(location, mend.wrong.format(**groups), mend.right.format(**groups)))
    return Passage(passage.path, text, passage.rows), slips
