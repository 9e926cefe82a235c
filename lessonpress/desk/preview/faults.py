"""A lesson with faults: its text with each fault below its line, and the way to its last good page."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from lessonpress.records import Problem

_PAGE = """\
<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<link rel="stylesheet" href="/theme/styles/tokens.css">
<link rel="stylesheet" href="/theme/styles/faces.css">
<link rel="stylesheet" href="/faults.css">
</head>
<body class="faults">
<header>
<h1>{title}</h1>
<p>{count} The page is pressed again as soon as the text is mended.</p>
{good}
</header>
<main>
{elsewhere}
<ol class="source">
{lines}
</ol>
</main>
</body>
</html>
"""


def fault_page(path: str, text: str, faults: Iterable[Problem], good: str | None) -> str:
    """path: of the lesson's file. text: as on disk. good: the last good page's address, if there is one."""
    here = sorted((one for one in faults if one.location.path == path), key=lambda one: one.location)
    elsewhere = [one for one in faults if one.location.path != path]
    number = len(here) + len(elsewhere)
    return _PAGE.format(
        title=escape(f"{path} has faults"),
        count=f"{number} {'fault' if number == 1 else 'faults'}.",
        good=f'<p><a href="{escape(good)}">The last good page</a></p>' if good else "",
        elsewhere="".join(_note(one) for one in elsewhere),
        lines="\n".join(_lines(text, here)),
    )


def _lines(text: str, here: list[Problem]) -> Iterable[str]:
    lines = text.split("\n")
    for number, line in enumerate(lines, 1):
        notes = "".join(_note(one) for one in here if min(one.location.line, len(lines)) == number)
        mark = ' class="faulty"' if notes else ""
        yield f'<li id="line-{number}"{mark}><code>{escape(line) or " "}</code>{notes}</li>'


def _note(problem: Problem) -> str:
    right = f"; {escape(problem.right)}" if problem.right else ""
    near = f" Near: {escape(', '.join(problem.nearest))}." if problem.nearest else ""
    location = escape(str(problem.location))
    return f'<p class="fault"><strong>{location}</strong> {escape(problem.wrong)}{right}.{near}</p>'
