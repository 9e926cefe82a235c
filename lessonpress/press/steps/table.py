"""The table of a press's steps: what each makes and what it needs.

A row is a step: its name, its function, and what feeds it, as words. What it was really made of each docket
knows; this column is for those who read. To add a step: write its function, which asks its reader for all
that it uses; add a row; let a step or `press/schedule.py` ask for the product. It is made again by itself
when what it asked for is another.

Modules are imported when one of their steps is made: a press with nothing to do needs none of them.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

_HERE = "lessonpress.press.steps"


@dataclass(frozen=True)
class Step:
    """function: MODULE:NAME. fed_by: words. says: what `press --why` calls a product of it.

    small: whether its products are kept with their dockets, since a file each would be larger.
    """

    function: str
    fed_by: str
    says: str
    small: bool = False

    @property
    def module(self) -> str:
        return f"{_HERE}.{self.function.partition(':')[0]}"

    @property
    def make(self) -> Callable[..., Any]:
        made: Callable[..., Any] = getattr(
            importlib.import_module(self.module), self.function.partition(":")[2]
        )
        return made


STEPS: dict[str, Step] = {
    # what the author wrote
    "site.yaml": Step("texts:site_file", "site.yaml", "site.yaml read"),
    "glossary": Step("texts:glossary", "glossary.yaml", "the glossary read"),
    "names": Step("texts:names", "a folder's list", "the names in {of}/"),
    "named": Step("texts:named", "names", "the names in {of}/"),
    "lesson": Step("texts:lesson", "the lesson's file; the day", "lesson {of} read"),
    "text": Step("texts:text", "the page's file", "page {of} read"),
    "head": Step("texts:head", "lesson", "the head of lesson {of}"),
    "heads": Step("texts:heads", "head of each lesson", "the heads of lessons"),
    "page head": Step("texts:page_head", "text", "the head of page {of}"),
    "page heads": Step("texts:page_heads", "page head of each page", "the heads of pages"),
    "pressed": Step("texts:pressed", "heads; whether drafts are asked for", "which lessons get a page"),
    "mentions": Step("texts:mentions", "pressed, heads", "what is said of lessons", small=True),
    "pressed names": Step("texts:pressed_names", "pressed", "which lessons get a page"),
    "clips in use": Step("texts:clips_in_use", "pressed, head of each", "which clips are shown"),
    "showing": Step("texts:clips_showing", "pressed, head of each", "which lessons show a clip"),
    "picturing": Step("texts:texts_picturing", "pressed, head of each; pages", "which texts show a picture"),
    "among lessons": Step("texts:among_lessons", "heads, names of clips, the day", "lessons held together"),
    "sources": Step("texts:sources", "the lists of lessons and pages", "what links may lead to"),
    "withheld": Step("texts:files_withheld", "heads", "which lessons no link may lead to"),
    "withdrawn": Step("texts:withdrawn", "withdrawn.yaml", "withdrawn.yaml read"),
    "withdrawn notes": Step("texts:withdrawn_notes", "withdrawn", "where notes take the place of lessons"),
    "linked files": Step(
        "texts:linked_files",
        "lesson or text; of sources and files those linked",
        "the links of {of}",
        small=True,
    ),
    "links": Step("texts:links", "linked files; still of each", "the pictures linked by {of}", small=True),
    "still card": Step(
        "stills:card", "the card of a picture; the day; picturing", "the card of picture {of}"
    ),
    "attached": Step("texts:attached", "links of each", "the files that come along"),
    "root files": Step("texts:at_root", "the list of root/, its files; heads", "the files of root/"),
    "icon": Step("texts:icon", "root files", "the site's icon", small=True),
    "pages by source": Step(
        "texts:pages_by_source", "pressed, page heads, attached, withdrawn", "where links lead"
    ),
    # a clip
    "clip": Step("clips:clip", "its files; whether it is shown; the day", "clip {of} read"),
    "played": Step("clips:played", "clip, its video", "clip {of} played"),
    "plausible": Step("clips:plausible", "clip, played, units", "clip {of} looked through"),
    # a lesson
    "measured": Step("bind:measured", "lesson; clips and fields of the site it uses", "lesson {of} measured"),
    "bound": Step("bind:bound", "measured; that of lessons it charts", "lesson {of} bound"),
    "whole": Step("bind:whole", "bound", "lesson {of} looked over"),
    "looked at": Step("looks:lesson", "bound, its cards, site.yaml", "lesson {of} looked at"),
    "page looked at": Step("looks:page", "text, site.yaml", "page {of} looked at"),
    "number": Step("bind:number", "bound", "the one number of lesson {of}"),
    "tally": Step("bind:tally", "bound", "what lesson {of} counts", small=True),
    "entry": Step("bind:entry", "bound, head", "the entry of lesson {of}"),
    "row": Step("bind:row", "head, number, units", "the row of lesson {of} in lists"),
    "terms": Step("lists:terms", "lesson, bound, glossary, the terms of words", "the terms of lesson {of}"),
    "pictures": Step("prints:pictures", "bound, played", "the pictures of {of}"),
    "diagrams": Step("prints:standalone", "bound, pictures, words", "the diagrams of {of}"),
    "letter pictures": Step(
        "prints:for_letters", "bound, pictures, words", "the pictures for letters of {of}"
    ),
    "sheets": Step("prints:for_elsewhere", "head, bound, pictures, words", "the sheets and squares of {of}"),
    "loops": Step("prints:moving", "bound, played", "the loops of {of}"),
    "ledger": Step("prints:ledger", "bound", "the ledger of {of}"),
    "overlays": Step("lists:overlays", "bound; words", "what is drawn on the pictures of {of}"),
    "page": Step(
        "lists:lesson_page",
        "bound, pictures, overlays, terms; its neighbours, topics and links; words, templates",
        "the page of {of}",
    ),
    "card": Step("lists:lesson_card", "bound, pictures; words, templates", "the card of {of}"),
    "former": Step("lists:former", "head; words, templates", "the earlier paths of {of}", small=True),
    # the theme
    "theme": Step("themes:theme", "site.yaml; an own theme's files", "the theme"),
    "words": Step("themes:words", "theme, its words", "the theme's words"),
    "style": Step("themes:styled", "theme, its styles and fonts", "the style sheet", small=True),
    "scripts": Step("themes:scripted", "theme, its scripts", "the scripts", small=True),
    "icons": Step("offline:icons", "theme, its icon", "the site's icons", small=True),
    # what gathers from lessons
    "listed": Step("lists:listed", "pressed, heads", "which lessons are listed"),
    "beside": Step("lists:beside", "listed", "which lessons are neighbours"),
    "series": Step("lists:series", "listed, heads", "the series"),
    "topics": Step("lists:topics", "listed, heads", "the topics"),
    "slugs": Step("lists:slugs", "topics", "the topics' addresses"),
    "home": Step("lists:home", "bound of the latest, entries of some, heads", "the home page"),
    "years": Step("lists:years", "listed, heads", "the years of the archive"),
    "archive": Step("lists:archive", "years, row of each lesson of its newest", "the archive"),
    "year": Step("lists:year", "row of each of its lessons", "the archive of {of}"),
    "topics page": Step("lists:index_of_topics", "heads of listed lessons", "the index of topics"),
    "topic": Step(
        "lists:topic", "entries of its newest lessons, rows of the others", "the page of topic {of}"
    ),
    "plain": Step("lists:plain", "text; its links", "page {of}"),
    "glossary page": Step("lists:glossary_page_of", "glossary; words, templates", "the glossary"),
    "settings": Step("lists:settings", "words, templates", "the page of settings"),
    "notes": Step("lists:notes", "withdrawn, heads; words, templates", "the notes of lessons that are gone"),
    "not found": Step("lists:not_found", "words, templates", "the page for what is not found"),
    "feed entry": Step("leaves:feed_entry", "bound; words; its links", "lesson {of} for feeds"),
    "feeds": Step("leaves:feeds", "heads and feed entries of the latest lessons", "the feeds"),
    "topic feeds": Step(
        "leaves:topic_feeds", "heads, feed entries of its lessons", "the feeds of topic {of}"
    ),
    "diagram names": Step("leaves:diagram_names", "bound", "the names of diagrams of {of}", small=True),
    "sitemap": Step("leaves:sitemap", "heads and diagram names of listed lessons", "the site's map"),
    "all measures": Step("leaves:all_measures", "bound of listed lessons", "the measures of the site"),
    "lesson kept": Step(
        "offline:lesson_kept",
        "page, pictures, loops, style, scripts",
        "the list of {of} for browsers",
        small=True,
    ),
    "site kept": Step(
        "offline:site_kept", "lesson kept of each; home, settings, icons", "what browsers keep"
    ),
    "searched": Step("searches:searched", "listed, heads, page heads; site.yaml", "what is searched"),
    "search parts": Step("searches:search_parts", "searched, theme", "the parts of the index", small=True),
    "searchable": Step("searches:searchable", "search parts", "whether the site is searched", small=True),
    "lesson searched": Step("searches:lesson_searched", "bound, pictures; words", "what of {of} is searched"),
    "page searched": Step("searches:page_searched", "text", "what of page {of} is searched"),
    "search": Step(
        "searches:index",
        "searched; lesson or page searched of each of a part",
        "the index of {of} for searching",
    ),
    "search page": Step("searches:page", "search parts; words, templates", "the page for searching"),
    "still": Step("stills:taken_in", "still card, the picture", "picture {of} taken in"),
    "attached file": Step("leaves:attached_file", "the file", "{of}"),
    "compressed": Step("leaves:smaller", "a file's content", "a file compressed"),
    "root file": Step("leaves:root_file", "the file", "root/{of}"),
}
