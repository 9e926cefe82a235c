"""A lesson written as a letter, as `lessonpress mail` does it. Nothing is sent."""

from __future__ import annotations

from typing import Any

from lessonpress.desk.http.requests import WriteLetter
from lessonpress.desk.http.responses import RequestError, problems_json, usage_as_refusal
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.press import MailOptions, Silent, write_letters
from lessonpress.records import UsageError


def letter(live: LiveSite, name: str, asked: WriteLetter) -> dict[str, Any]:
    """Writes the letter; where it lies and what it is made of. Raises RequestError where it is refused."""
    options = MailOptions(excerpt=asked.excerpt, attach=asked.attach, unlisted=asked.unlisted)
    try:
        mailed = write_letters(live.root, [name], options, Silent(), own_themes=live.own_themes)
    except UsageError as error:
        raise usage_as_refusal(error) from error
    problems = problems_json(mailed.problems.collected)
    if not mailed.folders:
        wrong = "the lesson, its clips or site.yaml have mistakes, so that no letter is written"
        raise RequestError(422, wrong, "correct them first", problems=problems)
    (folder,) = mailed.folders
    sizes = {path.name: path.stat().st_size for path in sorted(folder.iterdir()) if path.is_file()}
    return {
        "folder": folder.relative_to(live.root).as_posix(),
        "files": sizes,
        "preview": f"{folder.name}/preview.html",
        "problems": problems,
    }
