from __future__ import annotations

from lessonpress.pages.glossary import Gloss, Glosses

GLOSSARY = {"hub": "Where the arc turns.", "plumb line": "A line that hangs true."}


def test_a_term_is_explained_once_where_it_is_first_used() -> None:
    glosses = Glosses(GLOSSARY)
    assert glosses.first_met_in("Nothing yet.") == ()
    assert glosses.first_met_in("The Hub stays.") == (Gloss("hub", "Where the arc turns."),)
    assert glosses.first_met_in("The hub still stays.") == ()


def test_terms_come_in_the_order_in_which_the_text_uses_them() -> None:
    met = Glosses(GLOSSARY).first_met_in("Two plumb lines cross the hub.")
    assert [gloss.term for gloss in met] == ["plumb line", "hub"]


def test_a_part_of_a_word_is_no_use_of_a_term() -> None:
    assert Glosses(GLOSSARY).first_met_in("A hubcap.") == ()
