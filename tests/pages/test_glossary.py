from __future__ import annotations

from lessonpress.pages.glossary import Gloss, Glosses, terms_of
from lessonpress.pages.theme import Theme
from tests.pages import factory
from tests.pages.sites import XHTML, pages_of, parse, words_of

WORDS = Theme.named().words("en")
GLOSSARY = {"hub": "Where the arc turns.", "plumb line": "A line that hangs true."}


def glosses(glossary: dict[str, str]) -> Glosses:
    return Glosses(terms_of(factory.bound(glossary=glossary).site, WORDS))


def test_a_term_is_explained_once_where_it_is_first_used() -> None:
    found = glosses(GLOSSARY)
    assert found.first_met_in("Nothing yet.") == ()
    assert found.first_met_in("The Hub stays.") == (Gloss("hub", "Where the arc turns."),)
    assert found.first_met_in("The hub still stays.") == ()


def test_terms_come_in_the_order_in_which_the_text_uses_them() -> None:
    met = glosses(GLOSSARY).first_met_in("Two plumb lines cross the hub.")
    assert [gloss.term for gloss in met] == ["plumb line", "hub"]


def test_a_part_of_a_word_is_no_use_of_a_term() -> None:
    assert glosses(GLOSSARY).first_met_in("A hubcap.") == ()


def test_sides_and_ways_are_explained_without_a_glossary_and_only_where_they_are_meant() -> None:
    found = glosses({})
    assert found.first_met_in("Take the bag away and lead it toward the door; a trail of sand.") == ()
    met = found.first_met_in("The trail hip goes toward the target, the lead knee away from the target.")
    assert [gloss.term for gloss in met] == ["trail", "toward", "lead", "away"]


def test_the_site_s_own_meaning_of_a_term_goes_before_the_theme_s() -> None:
    met = glosses({"Lead": "Nearer the flag."}).first_met_in("The lead hip.")
    assert met == (Gloss("Lead", "Nearer the flag."),)


def test_the_glossary_s_page_explains_every_term_once_in_the_order_of_the_alphabet() -> None:
    """The site's own, and those of the theme that it does not have."""
    glossary = {"Zone": "Where it lands.", "lead": "The *front* side."}
    page = parse(pages_of(factory.bound(glossary=glossary))["glossary/index.html"])
    terms = [str(one.text) for one in page.iter(f"{XHTML}dt")]
    assert terms == sorted(terms, key=str.casefold)
    assert {"Zone", "lead", "trail"} <= set(terms)
    assert len(terms) == len({term.casefold() for term in terms})
    (meaning,) = (one for one in page.iter(f"{XHTML}dd") if words_of(one).startswith("The front"))
    assert meaning.find(f"{XHTML}em") is not None
