"""A letter in HTML: one lesson, an excerpt of it, or several as a digest, with its styles on its elements.

Mail programs drop style sheets, so that css-inline puts each rule on the elements it is for; what stays in
the head is for those that keep it: night, and narrow screens.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import css_inline
from markupsafe import Markup

from lessonpress.outlets.letters.article import Article
from lessonpress.outlets.letters.plaintext import plain_text
from lessonpress.pages import Linker, PageContext, ProseContext, Writing, counted, render

MOST = 100_000  # bytes of HTML; some mail programs cut off what is after 102 kB (common practice)


@dataclass(frozen=True)
class Letter:
    """subject: as the message has it. html, text: the letter twice. pictures: paths in the site."""

    subject: str
    html: str
    text: str
    pictures: tuple[str, ...]

    @property
    def too_long(self) -> bool:
        """Whether mail programs would cut it off."""
        return len(self.html.encode()) > MOST


def letter_of(articles: Sequence[Article], context: PageContext, *, excerpt: bool, digest: bool) -> Letter:
    """The letter of these lessons, in their order. digest: whether it has several, under the site's title."""
    site, words = context.bound.site, context.words
    first = articles[0].lesson
    subject = (
        words["letter"]["digest"].format(title=site.title, count=counted(len(articles), "lesson", words))
        if digest
        else first.title
    )
    preview = " · ".join(one.lesson.title for one in articles) if digest else first.summary or ""
    written = context.letter(
        subject=subject,
        preview=preview,
        articles=articles,
        excerpt=excerpt or digest,
        digest=digest,
        caution="" if any(one.cautioned for one in articles) else words["caution"]["text"],
        footer=_footer(context),
        unsubscribe=site.mail.unsubscribe or "",
        home=Linker("", base=site.url)("") if site.url else "",
    )
    return Letter(
        subject,
        _inlined(written),
        plain_text(written),
        tuple(dict.fromkeys(path for one in articles for path in one.pictures)),
    )


def _footer(context: PageContext) -> Markup:
    """What site.yaml asks to be at the foot of every letter, such as a postal address."""
    footer = context.bound.site.mail.footer
    printing = ProseContext({}, {}, context.bound.site.units)
    return render(footer, Writing(printing, outline=3)) if footer else Markup()


def _inlined(html: str) -> str:
    inliner = css_inline.CSSInliner(keep_at_rules=True, load_remote_stylesheets=False)
    return inliner.inline(html)
