"""The lesson's page: what is where, and what is said of each number."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from xml.etree.ElementTree import Element

import pytest

from lessonpress.figures.plates import BoundLesson
from lessonpress.pages.ledger import Bar, bars
from tests.pages import factory
from tests.pages.sites import XHTML, chart_lesson, page_of, pages_of, pair_lesson, parse, with_class, words_of


@cache
def whole() -> Element:
    return page_of(factory.whole_lesson(), glossary={"hub": "Where the *arc* turns."})


def test_the_first_plate_opens_the_page_and_the_others_are_in_their_places() -> None:
    [opening] = with_class(whole(), "opening")
    [body] = with_class(whole(), "body")
    assert [plate.get("id") for plate in with_class(opening, "plate")] == ["plate-setup"]
    assert [plate.get("id") for plate in with_class(body, "plate")] == ["plate-top", "plate-impact"]


@pytest.mark.parametrize("kind", ["pair", "strip"])
def test_several_pictures_are_not_lifted_into_the_opening(kind: str) -> None:
    lesson = factory.whole_lesson()
    wide = replace(lesson.plates[0], kind=kind, panels=(factory.at_setup(), factory.at_top()))
    [opening] = with_class(page_of(replace(lesson, plates=(wide, *lesson.plates[1:]))), "opening")
    assert not with_class(opening, "plate")


def test_a_plate_says_its_number_instant_and_frame() -> None:
    head = with_class(whole(), "plate-head")[0]
    assert words_of(head) == "Plate I Setup · 0.05 s · frame 12"


def test_each_picture_is_overlaid_at_two_widths() -> None:
    [opening] = with_class(whole(), "opening")
    svgs = [
        scene for layer in with_class(opening, "ov") for svg in layer for scene in svg if scene.get("viewBox")
    ]
    assert [svg.get("viewBox") for svg in svgs] == ["0 0 360 450", "0 0 560 700"]


def test_the_number_under_a_plate_leads_to_its_row() -> None:
    numbers = [link for link in with_class(whole(), "m") if link.get("href") == "#m-navel-back"]
    assert {words_of(link) for link in numbers} == {"4.0 in ± 0.6"}
    assert "m-navel-back" in {row.get("id") for row in whole().iter(f"{XHTML}tr")}


def test_a_row_of_the_ledger_has_number_direction_frames_and_plane() -> None:
    [row] = [row for row in whole().iter(f"{XHTML}tr") if row.get("id") == "m-navel-back"]
    cells = [words_of(cell) for cell in row]
    assert cells[2:] == [
        "4.0",
        "±0.6",
        "in",
        "away from the target",
        "frames 12, 192",
        "subject plane, face-on",
    ]


def test_a_difference_names_the_frames_of_each_picture() -> None:
    rows = {row.get("id"): words_of(row) for row in page_of(pair_lesson()).iter(f"{XHTML}tr")}
    assert "frames 52 to 66" in rows["m-lean.second"]
    assert "frames 65 to 89; frames 52 to 66" in rows["m-lean.difference"]


def test_a_refused_measure_is_said_not_to_be_measured_with_reason_and_way_out() -> None:
    [row] = [row for row in whole().iter(f"{XHTML}tr") if row.get("id") == "m-head-speed"]
    said = words_of(row)
    assert "not measured" in said
    assert "the clubhead turns 41° from frame to frame" in said
    assert "film at 240 pictures per second or more" in said


def test_readers_see_marks_in_words_where_authors_see_names() -> None:
    lesson = factory.whole_lesson()
    refused = factory.refused(refused="implement-head turns by 41°", way_out="track implement-head")
    told = page_of(replace(lesson, measures={**lesson.measures, refused.id: refused}))
    [row] = [row for row in told.iter(f"{XHTML}tr") if row.get("id") == "m-head-speed"]
    assert "clubhead turns by 41°. What would help: track clubhead." in words_of(row)


def test_a_row_taken_from_a_chart_names_its_clip() -> None:
    lesson = chart_lesson()
    points = lesson.plates[0].chart.points  # type: ignore[union-attr]
    measures = {point.measure.id: replace(point.measure, figure="over-time") for point in points}
    rows = page_of(replace(lesson, measures=measures)).iter(f"{XHTML}tr")
    said = {row.get("id"): words_of(row) for row in rows}
    assert (
        "Plate I · Dune, first week" in said["m-tilt-0"] and "Plate I · Shingle, outdoors" in said["m-tilt-2"]
    )


def test_how_a_number_was_measured_shows_formula_shares_and_assumptions() -> None:
    [how] = [one for one in whole().iter(f"{XHTML}details") if one.get("id") == "how-navel-back"]
    said = words_of(how)
    for part in ("shift = (x now", "369.0 px", "61 %", "27 %", "12 %", "one plumb line", "JCGM 100"):
        assert part in said
    assert [rect.get("width") for rect in with_class(how, "share")] == ["61", "27", "12"]


def test_shares_of_next_to_nothing_are_given_together() -> None:
    budget = factory.BACK.budget
    assert budget is not None
    parts = (0.985, 0.004, 0.004, 0.004, 0.003)
    shares = tuple(replace(budget.shares[0], words=f"input {n}", share=part) for n, part in enumerate(parts))
    assert bars(replace(budget, shares=shares)) == (Bar("input 0", 98), Bar("", 2))
    assert bars(replace(budget, shares=shares[:2])) == (Bar("input 0", 98),)


def test_the_table_of_a_plate_s_measures_names_each_swing() -> None:
    tables = [words_of(table) for table in with_class(page_of(pair_lesson()), "small")]
    for side in ("swing 1", "swing 2", "swing 1 less swing 2"):
        assert f"· {side}" in tables[0]


def test_a_lesson_with_a_drill_gets_a_caution_before_it() -> None:
    [boxes] = with_class(whole(), "boxes")
    assert [box.get("class") for box in boxes] == ["caution", "drill"]


def test_cautions_and_drills_have_headings_one_below_the_section_they_are_in() -> None:
    body = "```caution\n```\n\n## Hips\n\n```drill\n```\n\n### Slowly\n\n```drill\n```\n"
    blocks = (
        factory.block("caution", 10, "Mind your back.\n"),
        factory.block("drill", 15, "## The bag\n\n1. Stand.\n"),
        factory.block("drill", 20, "1. Turn.\n"),
    )
    [page] = page_of(BoundLesson(factory.lesson("one", body, blocks), (), {}, {})).iter(f"{XHTML}main")
    heads = [
        (one.tag.removeprefix(XHTML), words_of(one))
        for one in page.iter()
        if str(one.tag).removeprefix(XHTML) in ("h2", "h3", "h4")
    ]
    assert heads == [
        ("h2", "Caution"),
        ("h2", "Hips"),
        ("h3", "Drill"),
        ("h4", "The bag"),
        ("h3", "Slowly"),
        ("h4", "Drill"),
    ]


@pytest.mark.parametrize("body, level", [("## Hips\n\n```drill\n```\n", "h3"), ("Your back.\n", "h2")])
def test_the_themes_own_caution_has_a_heading_too(body: str, level: str) -> None:
    blocks = (factory.block("drill", 12, "1. Turn.\n"),) if "drill" in body else ()
    [box] = with_class(page_of(BoundLesson(factory.lesson("one", body, blocks), (), {}, {})), "caution")
    assert box[0].tag == f"{XHTML}{level}"


def test_an_authors_own_caution_is_the_only_one() -> None:
    body = "Mind your back.\n\n```caution\n```\n"
    block = factory.block("caution", 12, "My *own* words.\n")
    lesson = BoundLesson(factory.lesson("one", body, (block,)), (), {}, {})
    assert [words_of(box) for box in with_class(page_of(lesson), "caution")] == ["Caution My own words."]


def test_a_caution_is_at_the_end_of_a_lesson_about_the_body_without_drills() -> None:
    lesson = BoundLesson(factory.lesson("one", "Mind your back.\n"), (), {}, {})
    [body] = with_class(page_of(lesson), "body")
    assert [part.get("class") for part in body] == ["run", "boxes", "keep"]


def test_terms_are_explained_beside_the_text_that_uses_them() -> None:
    glosses = {words_of(gloss) for gloss in with_class(whole(), "gloss")}
    assert "hub Where the arc turns." in glosses


def test_lessons_lead_to_those_before_and_after_them() -> None:
    lessons = [factory.bare_lesson(name, title=name.upper(), number=None) for name in ("c", "b", "a")]
    page = parse(pages_of(factory.bound(*lessons))["lessons/b/index.html"])
    [nav] = with_class(page, "neighbours")
    assert [(link.get("href"), words_of(link)) for link in nav] == [
        ("../a/index.html", "Before this A"),
        ("../c/index.html", "After this C"),
    ]


def test_a_mirrored_panel_mirrors_its_picture_and_no_number() -> None:
    lesson = factory.whole_lesson()
    turned = replace(lesson.plates[0], panels=(replace(factory.at_setup(), mirrored=True),))
    page = page_of(replace(lesson, plates=(turned, *lesson.plates[1:])))
    assert len(with_class(page, "mirrored")) == 1
    assert {words_of(row) for row in page.iter(f"{XHTML}tr")} == {
        words_of(row) for row in page_of(lesson).iter(f"{XHTML}tr")
    }


def test_a_measure_is_found_by_every_name_that_figures_give_it() -> None:
    lesson = replace(factory.whole_lesson(), named={"knee.top": factory.BACK})
    written = replace(lesson.lesson, body="It moved {knee.top:size}.\n", blocks=())
    [prose] = with_class(page_of(replace(lesson, lesson=written, plates=())), "prose")
    assert words_of(prose) == "It moved 4.0 in ± 0.6."


def test_fences_that_are_no_blocks_are_code() -> None:
    lesson = BoundLesson(factory.lesson("one", "```yaml\ndraw: []\n```\n"), (), {}, {})
    [code] = page_of(lesson).iter(f"{XHTML}code")
    assert code.text == "draw: []\n"


def test_readers_are_shown_a_clip_s_title_and_never_its_folder_s_name() -> None:
    said = words_of(page_of(pair_lesson()))
    assert "clips Dune, face-on, 7-iron; Shingle, face-on, 7-iron" in said
    assert "Swing 1 Dune, face-on, 7-iron · Impact" in said
    assert "dune-face-on" not in said and "shingle-face-on" not in said


def test_every_number_of_the_text_leads_to_its_row_and_the_row_leads_back_to_it() -> None:
    """Links alone, so that the way back is there without scripts; a plate's key is found by its plate."""
    page = whole()
    numbers = [link for link in with_class(page, "m") if link.get("id")]
    assert len(numbers) > 3
    rows = {
        row.get("id"): [one.get("href") for one in row.iter(f"{XHTML}a")] for row in page.iter(f"{XHTML}tr")
    }
    for number in numbers:
        row = (number.get("href") or "").removeprefix("#")
        assert f"#{number.get('id')}" in rows[row]
    back = [href for hrefs in rows.values() for href in hrefs if href and href.startswith("#n-")]
    assert sorted(back) == sorted(f"#{number.get('id')}" for number in numbers)


def test_places_of_a_number_are_counted_in_the_order_of_the_page() -> None:
    ids = [link.get("id") or "" for link in with_class(whole(), "m") if link.get("id")]
    assert len(ids) > 1
    for name in {one.rpartition("-")[0] for one in ids}:
        counted = [int(one.rpartition("-")[2]) for one in ids if one.rpartition("-")[0] == name]
        assert counted == list(range(1, len(counted) + 1))


def test_a_term_is_explained_once_and_beside_the_paragraph_or_under_the_plate_that_uses_it_first() -> None:
    """The survey bar of the opening plate says toward and away, so that plate explains them."""
    page = whole()
    terms = [words_of(term) for gloss in with_class(page, "gloss") for term in gloss.iter(f"{XHTML}dt")]
    assert sorted(terms) == sorted(set(terms))
    [opening] = with_class(page, "opening-plate")
    said = [words_of(term) for gloss in with_class(opening, "gloss") for term in gloss.iter(f"{XHTML}dt")]
    assert {"toward", "away"} <= set(said)
    [run] = [one for one in with_class(page, "run") if "Where the arc turns." in words_of(one)]
    [prose] = with_class(run, "prose")
    assert len(list(prose)) == 1 and "hub" in words_of(prose)
