"""What axe-core finds on a page: what of WCAG 2.2 A and AA a machine can check, and best practice."""

from __future__ import annotations

from pathlib import Path

import axe_playwright_python
from playwright.sync_api import Page

SOURCE = Path(axe_playwright_python.__file__).with_name("axe.min.js").read_text(encoding="utf-8")
WCAG = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")
READERS = (*WCAG, "best-practice")  # what pages for readers are held to
COLOURS = "cat.color"  # axe's own tag of each rule that another colour scheme can break
# what passed stays in the browser: to hand its nodes over takes as long as to look at the page
RUN = """async ([rules, within, kin]) => {
  for (const part of document.querySelectorAll(".body > *")) part.style.contentVisibility = "visible";
  const chosen = axe.getRules(rules).filter(rule => !kin || rule.tags.includes(kin)).map(rule => rule.ruleId);
  const only = kin ? {type: "rule", values: chosen} : rules;
  const found = await axe.run(within ? {include: [within]} : document, {runOnly: only, iframes: false});
  return {passed: found.passes.length, violations: found.violations};
}"""


def broken_rules(
    page: Page, where: str, within: str = "", rules: tuple[str, ...] = READERS, kin: str = ""
) -> list[str]:
    """Each element of the page that breaks a rule, with what would mend it. where: said before each.

    within: a selector of the one part to look at, where the rest of the page is looked at elsewhere. kin: a
    tag of the rules to be held to, such as COLOURS where a page that has been looked at changes its scheme.
    """
    if not page.evaluate("'axe' in window"):
        page.evaluate(SOURCE)
    found = page.evaluate(RUN, [list(rules), within, kin])
    assert found["passed"], f"{where}: axe looked at nothing"
    return [
        f"{where}: {rule['id']}: {node['target']} {node['html'][:120]} {node['failureSummary'][:200]}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]
