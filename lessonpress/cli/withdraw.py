"""`withdraw CLIP`, `withdraw PICTURE`, `withdraw --person NAME`: taken out of all that was made."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lessonpress.press import folder_of_site
from lessonpress.records import UsageError

if TYPE_CHECKING:
    from lessonpress.press import Withdrawal


@click.command("withdraw")
@click.argument("what", required=False, metavar="CLIP|PICTURE")
@click.option(
    "--person", metavar="NAME", help="Every clip and picture on whose card someone of this name is."
)
@click.option("--back", metavar="NAME", help="Take back what was withdrawn as NAME since the last press.")
@click.option("--list", "only_list", is_flag=True, help="Say what it concerns, and change nothing.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Where the site is pressed, if not SITE/build/site."
)
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(
    what: str | None,
    person: str | None,
    back: str | None,
    only_list: bool,
    out: Path | None,
    site: Path | None,
) -> None:
    """Take a clip, a picture of your own by its path, or all of a person out, with the lessons that show it.

    All that is moved to SITE/withdrawn. The next press puts a note at the lessons' addresses and nothing
    else of them; what the program made of them is emptied now: the cache, contact sheets, letters, drawings.
    Printed is what lies at the host still, where it is listed, which letters had it, and what still
    names it. Until the next press, --back takes it back.
    """
    if sum(one is not None for one in (what, person, back)) != 1:
        raise UsageError("give a clip or a picture, or --person NAME, or --back NAME")
    root = folder_of_site(site)
    if back is not None:
        from lessonpress.press import take_back

        for path in take_back(root, back):
            click.echo(f"back: {path}")
        return
    from lessonpress.press import withdraw

    _print(withdraw(root, what, person, out or root / "build" / "site", only_list=only_list), only_list)


def _print(done: Withdrawal, only_list: bool) -> None:
    verb = "would be moved" if only_list else "moved"
    _listed(f"{verb} to {done.folder}", done.reach.moved)
    _listed("keep a note that says so", [page for one in done.reach.lessons for page in one.addresses])
    kinds = Counter(one.what for one in done.traces.published)
    counted = ", ".join(f"{number} × {what}" for what, number in kinds.items())
    _listed(
        f"to be deleted at the host, with the copies it keeps ({counted})",
        [one.path for one in done.traces.published],
    )
    _listed("named or led to there; the next press, brought to the host, mends it", done.traces.listed)
    _listed(
        "letters that were written with it; what was sent cannot be called back",
        [f"{one.folder.name}, {one.on.isoformat()}" for one in done.traces.letters],
    )
    _listed("would be emptied" if only_list else "emptied", _as_wholes(done.emptied))
    _listed("have the very same video and were left alone", done.traces.alike)
    _listed("still name it; change what should not", done.traces.named)
    if not only_list:
        click.echo(f"Press, and bring the site to its host. Delete {done.folder} once nothing is to be kept.")
        click.echo(f"Until that press: lessonpress withdraw --back {done.folder.name}")


def _as_wholes(paths: Iterable[Path]) -> list[str]:
    """Paths in order, those of the cache as one."""
    wholes = (one.parent if one.parent.name == "cache" else one for one in paths)
    return list(dict.fromkeys(map(str, wholes)))


def _listed(what: str, lines: Iterable[str]) -> None:
    """A heading with its lines; nothing where there are none."""
    written = list(lines)
    if written:
        click.echo(f"{what}:")
        for line in written:
            click.echo(f"  {line}")
