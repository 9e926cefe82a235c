"""A theme's modules: named by what is in them, loaded by the pages that use them, and nothing else runs."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest

from lessonpress.pages.scripts import ScriptError, scripts_of
from tests.pages.sites import SITES, THEME, pages_of, parse


def _modules(folder: Path, **texts: str) -> Path:
    for name, text in texts.items():
        (folder / f"{name}.js").write_text(text, encoding="utf-8")
    return folder


def test_a_module_has_another_name_when_one_that_it_imports_is_another(tmp_path: Path) -> None:
    page = 'import { far } from "./near.js";\n'
    near = 'export { far } from "./far.js";\n'
    before = scripts_of(_modules(tmp_path, page=page, near=near, far="export const far = 1;\n"))
    after = scripts_of(_modules(tmp_path, far="export const far = 2;\n"))
    assert {before[name].path for name in before}.isdisjoint(after[name].path for name in after)
    assert before["page"].needs == (before["near"].path, before["far"].path)
    assert Path(before["near"].path).name in before["page"].content.decode()


def test_a_module_that_imports_what_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ScriptError, match=r"scripts/page.js imports ./gone.js, which is not there"):
        scripts_of(_modules(tmp_path, page='import "./gone.js";\n'))
    ring = _modules(tmp_path, page='import "./other.js";\n', other='import "./page.js";\n')
    with pytest.raises(ScriptError, match=r"import each other in a ring"):
        scripts_of(ring)


@pytest.mark.parametrize(
    ("written", "served"),
    [
        ("// why\nconst one = 1; // kept\n", "const one = 1; // kept\n"),
        ("/** what it does\n * and why */\nrun();\n", "run();\n"),
        ("/*! licence */\nrun();\n", "/*! licence */\nrun();\n"),
        ("const a = 1; /* begins\n// here */ run();\n", "const a = 1; /* begins\n// here */ run();\n"),
        ("const text = `\n// no comment\n`;\n", "const text = `\n// no comment\n`;\n"),
        ('const text = "\\\n// no comment";\n', 'const text = "\\\n// no comment";\n'),
    ],
)
def test_comments_stay_out_of_what_a_phone_loads(tmp_path: Path, written: str, served: str) -> None:
    """What begins a comment: ECMA-262, 12.4. Text that only looks like one is left alone."""
    assert scripts_of(_modules(tmp_path, page=written))["page"].content.decode() == served


def test_every_import_of_the_theme_is_one_that_is_put_in_place() -> None:
    """An import in another form than the one known would lead nowhere in a pressed site."""
    for script in THEME.scripts.values():
        lines = [line for line in script.content.decode().splitlines() if ' from "' in line]
        assert all(line.split('"')[1].count(".") == 3 for line in lines), script.path  # ./NAME.HASH.js


def test_every_page_takes_scripts_styles_and_pictures_from_its_own_site_alone() -> None:
    """Source: Content Security Policy Level 3, 6.1 (fetch directives), and 3.3 for the meta element."""
    for html in pages_of(SITES["a whole lesson among others"]).values():
        metas = [one for one in parse(html).iter() if one.get("http-equiv") == "content-security-policy"]
        (policy,) = (one.get("content") for one in metas)
        rules = dict(rule.strip().partition(" ")[::2] for rule in str(policy).split(";"))
        assert rules["default-src"] == "'none'"
        assert rules["script-src"] == rules["style-src"] == "'self'"
        named = {source for directive in rules.values() for source in directive.split()}
        assert named <= {"'none'", "'self'", "data:", "blob:"}
        for element in parse(html).iter():
            assert not element.get("style"), html
            assert not any(str(name).startswith("on") for name in element.attrib)


def test_a_page_loads_only_the_scripts_that_it_uses() -> None:
    pages = pages_of(SITES["a whole lesson among others"])
    for script, used in (("plates", ' class="plate '), ("mine", r' alt="[^"]|class="settings"|id="ledger"')):
        loading = {path for path, html in pages.items() if f"assets/{script}." in html}
        assert loading == {path for path, html in pages.items() if re.search(used, html)}


def test_what_a_lesson_page_loads_is_light() -> None:
    """At most 25 kB of scripts and 14 kB of styles, compressed as hosts do: each file by gzip at level 6."""
    page = pages_of(SITES["a whole lesson among others"])["lessons/pelvis/index.html"]
    scripts = [script.content for script in THEME.scripts.values() if script.path in page]
    assert len(scripts) > 5
    assert sum(len(gzip.compress(content, 6)) for content in scripts) <= 25_000
    assert len(gzip.compress(THEME.style.encode(), 6)) <= 14_000
