"""Which theme a site may use, and what the templates of its own may do."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from jinja2.exceptions import SecurityError

from lessonpress.manuscript import read_site
from lessonpress.pages import Theme
from lessonpress.pages.own_themes import theme_of
from lessonpress.pages.theme import Theme as AnyTheme
from lessonpress.records.fault import UsageError
from lessonpress.records.problem import problem_text
from tests.pages import factory
from tests.pages.rendering import render_site
from tests.pages.sites import book_of

LESSON = "---\ntitle: Hips\ndate: 2026-11-23\n---\n\nWords.\n"


def _site(root: Path, theme: str) -> Path:
    (root / "lessons").mkdir(parents=True)
    (root / "lessons" / "hips.md").write_text(LESSON, encoding="utf-8")
    (root / "site.yaml").write_text(f"title: Notes\ntheme: {theme}\n", encoding="utf-8")
    return root


def _own(root: Path) -> Path:
    """A site whose theme is its own, a copy of the packaged one."""
    _site(root, "mine")
    return Path(shutil.copytree(Theme.named().folder, root / "themes" / "mine"))


def _told(root: Path, own_themes: bool) -> tuple[AnyTheme | None, list[str]]:
    site, problems = read_site(root)
    assert site is not None
    theme = None if problems.errors else theme_of(site, problems, own_themes)
    return theme, [problem_text(one) for one in problems.collected]


@pytest.mark.parametrize(
    "written", ["..", "../../elsewhere", "/etc", "mine/..", "themes/mine", "~", "'a\\b'"]
)
def test_a_theme_is_a_plain_name(tmp_path: Path, written: str) -> None:
    theme, (told,) = _told(_site(tmp_path, written), True)
    assert theme is None
    assert told.startswith("site.yaml:2:8: ")


def test_an_unknown_name_is_reported_with_those_that_look_like_it(tmp_path: Path) -> None:
    theme, (told,) = _told(_site(tmp_path, "plate-bok"), False)
    assert theme is None
    assert told.startswith("site.yaml:2:8: there is no theme `plate-bok`; there are: plate-book; ")
    assert "--own-themes" in told
    assert told.endswith("near: plate-book")


def test_an_own_theme_is_used_only_when_asked_for(tmp_path: Path) -> None:
    folder = _own(tmp_path)
    theme, (told,) = _told(tmp_path, False)
    assert theme is None
    assert "press with `--own-themes` if the site is one you trust" in told
    theme, none = _told(tmp_path, True)
    assert theme is not None
    assert (theme.folder, none) == (folder, [])


def _link_out(folder: Path) -> None:
    (folder / "fonts" / "passwd").symlink_to("/etc/passwd")


def _link_folder(folder: Path) -> None:
    shutil.move(folder, folder.parent.parent / "elsewhere")
    folder.symlink_to(folder.parent.parent / "elsewhere")


def _pipe(folder: Path) -> None:
    os.mkfifo(folder / "styles" / "endless.css")


def _write(name: str, text: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        (folder / name).write_text(text, encoding="utf-8")

    return change


def _drop(name: str) -> Callable[[Path], None]:
    return lambda folder: (folder / name).unlink()


BROKEN: list[tuple[Callable[[Path], None], str]] = [
    (_link_out, "themes/mine/fonts/passwd:1:1: this is a link, which may lead out of the site"),
    (_link_folder, "themes/mine:1:1: this is a link"),
    (_pipe, "themes/mine/styles/endless.css:1:1: this is not a plain file"),
    (_drop("theme.yaml"), "themes/mine/theme.yaml:1:1: the file cannot be read"),
    (
        _write("theme.yaml", "styles: [../../../x]"),
        "themes/mine/theme.yaml:1:1: `../../../x` is not a style's name",
    ),
    (_write("theme.yaml", "styles: [none]"), "themes/mine/theme.yaml:1:1: there is no styles/none.css"),
    (_write("theme.yaml", "styles: tokens"), "themes/mine/theme.yaml:1:1: the theme lists no styles"),
    (_write("theme.yaml", "a: ["), "themes/mine/theme.yaml:1:5: this is not YAML"),
    (_drop("words/en.yaml"), "themes/mine/words:1:1: the theme has no words/en.yaml"),
    (_write("words/en.yaml", "site: {}"), "themes/mine/words/en.yaml:1:1: words are missing: "),
    (_drop("templates/404.html"), "themes/mine/templates/404.html:1:1: this template is not there"),
    (_write("templates/404.html", "\n{% if %}"), "themes/mine/templates/404.html:2:1: "),
    (
        _drop("fonts/vollkorn-plain.woff2"),
        "themes/mine/theme.yaml:1:1: a style asks for fonts/vollkorn-plain.woff2",
    ),
]


@pytest.mark.parametrize(("broken", "expected"), BROKEN)
def test_a_broken_theme_is_reported_with_its_place(
    tmp_path: Path, broken: Callable[[Path], None], expected: str
) -> None:
    broken(_own(tmp_path))
    theme, told = _told(tmp_path, True)
    assert theme is None
    assert any(one.startswith(expected) for one in told), told


ESCAPES = [
    "{{ ''.__class__.__mro__ }}",
    "{{ site.root.joinpath('caught').write_text('x') }}",
    "{{ site.root.parent }}",
    "{{ site.file.parse_raw('', proto='pickle', allow_pickle=True) }}",
    "{{ site.file.model_construct() }}",
    "{{ links.lesson.__globals__ }}",
    "{{ links.__class__ }}",
    "{{ links.lesson.__code__ }}",
    "{{ '{0.__class__}'.format(site) }}",
    "{{ '%s'|format(site)|attr('__class__') }}",
    "{{ fit.__globals__ }}",
    "{{ long_date.__closure__ }}",
    "{{ site.pages.clear() }}",
]


@pytest.mark.parametrize("escape", ESCAPES)
def test_a_template_cannot_reach_out(tmp_path: Path, escape: str) -> None:
    """Ways out of templates that are commonly known, and those that our own objects would open."""
    folder = _own(tmp_path)
    (folder / "templates" / "404.html").write_text(f"\n{escape}", encoding="utf-8")
    theme, told = _told(tmp_path, True)
    assert theme is not None, told
    bound = factory.bound()
    bound = replace(bound, site=replace(bound.site, root=tmp_path))
    with pytest.raises(UsageError, match=r"themes/mine/templates/404\.html:2: ") as caught:
        list(render_site(bound, book_of(bound), theme))
    assert isinstance(caught.value.__cause__, SecurityError)
    assert not (tmp_path / "caught").exists()


def test_a_template_that_includes_what_lies_elsewhere_finds_nothing(tmp_path: Path) -> None:
    folder = _own(tmp_path)
    (folder / "templates" / "404.html").write_text("{% include '../theme.yaml' %}", encoding="utf-8")
    theme, _ = _told(tmp_path, True)
    assert theme is not None
    bound = factory.bound()
    with pytest.raises(UsageError, match=r"templates/404\.html:1: the template fails"):
        list(render_site(bound, book_of(bound), theme))


def test_a_copy_of_the_packaged_theme_gives_the_packaged_pages(tmp_path: Path) -> None:
    _own(tmp_path)
    theme, _ = _told(tmp_path, True)
    assert theme is not None
    bound = factory.bound(factory.whole_lesson())
    book = book_of(bound)
    assert dict(render_site(bound, book, theme)) == dict(render_site(bound, book, Theme.named()))
