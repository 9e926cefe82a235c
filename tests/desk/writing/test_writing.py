"""What the desk offers at a place of a lesson's text, and which words of it are slips: see the documents."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.preview.proof import Proof
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.writing.drafting import Drafting
from tests.documents import Case, Holds, cases_of

HERE = Path(__file__).parent
CURSOR = "‸"
SHOWN = 6  # offers of a case that are written out; of more, how many there are


@pytest.fixture(scope="module")
def drafting(drawn_site: Path) -> Drafting:
    """Texts of the drawn site, to which nothing is saved."""
    return Drafting(LiveSite(drawn_site))


@pytest.fixture(scope="module")
def written(drawn_site: Path) -> str:
    return (drawn_site / "lessons" / "pelvis.md").read_text(encoding="utf-8")


def _typed(case: Case, written: str) -> str:
    """The lesson with the case's text: instead of all of it, or of what the case says, or at its end."""
    text = case.named("text")[0].text
    replaced = case.named("instead")
    if text.startswith("---"):
        return text
    if replaced:
        assert written.count(replaced[0].text) == 1
        return written.replace(replaced[0].text, text)
    return f"{written}\n{text}"


@pytest.mark.parametrize("case", cases_of(HERE / "offers.md"), ids=str)
def test_offers_are_what_the_site_has_for_the_place(
    case: Case, drafting: Drafting, written: str, holds: Holds
) -> None:
    before, after = _typed(case, written).split(CURSOR)
    told = drafting.offers_json("pelvis", before, after)
    assert before.endswith(told["typed"]) and after.startswith(told["over"])
    rows = [f"  {one['name']}{f' ({words})' if (words := one['words']) else ''}" for one in told["offers"]]
    more = [f"  and {len(rows) - SHOWN} more"] if len(rows) > SHOWN else []
    taken = [f"first taken: {_first_taken(before, after, told)}"] if rows else []
    holds(case.named("offers")[0], "\n".join([told["of"] or "nothing", *rows[:SHOWN], *more, *taken]))


def _first_taken(before: str, after: str, told: dict[str, Any]) -> str:
    """The lines that the first offer is taken into, with the cursor where it is then."""
    text, back = told["offers"][0]["text"], told["offers"][0]["back"]
    start = before[: len(before) - len(told["typed"])]
    cut = len(text) - back
    whole = start + text[:cut] + CURSOR + text[cut:] + after[len(told["over"]) :]
    first, last = start.rfind("\n") + 1, whole.find("\n", whole.index(CURSOR))
    return whole[first : last if last >= 0 else None].replace("\n", "⏎")


@pytest.mark.parametrize("case", cases_of(HERE / "slips.md"), ids=str)
def test_slips_are_the_words_that_are_wrong(
    case: Case, drafting: Drafting, written: str, holds: Holds
) -> None:
    text = _typed(case, written)
    told = drafting.slips("pelvis", text)["problems"]
    lines = text.split("\n")
    assert all(one["slip"] in lines[one["line"] - 1] for one in told)
    holds(case.named("slips")[0], "\n".join(_said(one) for one in told))


def _said(one: dict[str, Any]) -> str:
    right = f"; {one['right']}" if one["right"] else ""
    instead = "".join(f"\n  instead: {text}" for text in one["instead"])
    return f"{one['slip']}\n  {one['wrong']}{right}{instead}"


def test_slips_are_those_that_the_press_reports(site: Path, drafting: Drafting) -> None:
    """The proof is pressed from the file; the slips come from the text before it is saved."""
    file = site / "lessons" / "pelvis.md"
    text = file.read_text(encoding="utf-8")
    for right, wrong in (
        ("{navel-back}", "{navel-bakc}"),
        ("frames: [setup, top, impact]", "frames: [setup, tpo, impact]"),
        ("topics: [pelvis, hub]", "topics: [pelvis, hub]\nserie: x"),
        ("- ring: head", "- rnig: head"),
    ):
        assert text.count(right) == 1
        text = text.replace(right, wrong)
    text += "\nSee [the other](kind.md), the left knee, and {figure:tpo}.\n"
    told = drafting.slips("pelvis", text)["problems"]
    file.write_text(text, encoding="utf-8")
    proof = Proof(LiveSite(site))
    proof.open()
    pressed = [one for one in proof.press().problems if one.location.path == "lessons/pelvis.md"]
    places = {(one["line"], one["column"], one["wrong"]) for one in told}
    assert places == {(one.location.line, one.location.column, one.wrong) for one in pressed}
    assert len(places) >= 6


def test_a_word_of_prose_measures_nothing_again(drafting: Drafting, written: str) -> None:
    """What is wrong with a figure goes along with it when lines are typed above."""
    wrong = written.replace("- ring: head", "- rnig: head")
    first = drafting.slips("pelvis", wrong)["problems"]
    measured = drafting.measured_anew
    moved = wrong.replace("At setup", "One more line.\n\nAt setup")
    second = drafting.slips("pelvis", moved)["problems"]
    assert first and [one["line"] + 2 for one in first] == [one["line"] for one in second]
    assert drafting.measured_anew == measured
    drafting.slips("pelvis", written)
    assert drafting.measured_anew == measured + 1


def test_a_text_is_read_over_http_and_saved_nowhere(author: TestClient, site: Path) -> None:
    file = site / "lessons" / "pelvis.md"
    was = file.read_bytes()
    before, after = was.decode().split("{navel-back}")
    told = author.post("/api/lessons/pelvis/offers", json={"before": before + "{nav", "after": after}).json()
    assert [one["name"] for one in told["offers"]] == ["navel-back"] and told["typed"] == "nav"
    read = author.post("/api/lessons/pelvis/slips", json={"text": f"{before}{{navel-bakc}}{after}"}).json()
    assert [one["slip"] for one in read["problems"]] == ["{navel-bakc}"]
    assert file.read_bytes() == was
