"""The body of a lesson: its prose and, in their places, its plates, cautions and drills.

A paragraph that uses a term first has it explained in the margin beside it. Cautions and drills that follow
one another are set side by side where the page is wide, the cautions first however they were written: what
can go wrong is read before it is tried.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from markdown_it.token import Token
from markupsafe import Markup

from lessonpress.pages.glossary import Gloss, Glosses
from lessonpress.pages.markdown import (
    WRITING,
    Env,
    Writing,
    block_of,
    opened,
    parsed,
    render_inline,
    rendered,
)


@dataclass(frozen=True)
class Part:
    """kind "prose": html with the glosses beside it; "figure": a plate; "boxes": cautions and drills.

    cautions: how many of the boxes are cautions, which come first.
    """

    kind: Literal["prose", "figure", "boxes"]
    html: tuple[Markup, ...]
    cautions: int = 0
    glosses: tuple[tuple[str, Markup], ...] = ()  # term, meaning


@dataclass
class _Pile:
    """Parts as they are gathered, in the order of the page.

    Text is printed before the block that follows it, since numbers are counted as they are printed. run: the
    tokens of a paragraph, list or other block of text that is not whole yet. html: of the text since the last
    part.
    """

    env: Env
    glosses: Glosses
    parts: list[Part] = field(default_factory=list)
    run: list[Token] = field(default_factory=list)
    html: Markup = field(default_factory=Markup)

    def read(self, token: Token) -> None:
        """Take in a token of text; a paragraph that uses a term first becomes a part of its own."""
        self.run.append(token)
        if token.level or token.nesting > 0:
            return
        html = rendered(self.run, self.env)
        met = self.glosses.first_met_in(" ".join(_words(one) for one in self.run))
        self.run = []
        if not met:
            self.html += html
            return
        self.end_text()
        self.add(Part("prose", (html,), glosses=glossed(met, self.env[WRITING])))

    def end_text(self) -> None:
        """Make a part of the text so far."""
        if self.html.strip():
            self.add(Part("prose", (self.html,)))
        self.html = Markup()

    def add(self, part: Part) -> None:
        last = self.parts[-1] if self.parts else None
        if last is not None and part.kind == last.kind == "boxes":
            self.parts[-1] = with_boxes(last, part)
        else:
            self.parts.append(part)


def with_boxes(some: Part, more: Part) -> Part:
    """The boxes of both parts in one: all their cautions, then all their drills."""
    cautions = some.html[: some.cautions] + more.html[: more.cautions]
    return Part(
        "boxes", cautions + some.html[some.cautions :] + more.html[more.cautions :], cautions=len(cautions)
    )


def parts(
    text: str, writing: Writing, glosses: Glosses, drills: frozenset[int], cautions: frozenset[int]
) -> tuple[Part, ...]:
    """The body in order. drills, cautions: file lines of their fences.

    A block that is printed elsewhere on the page comes as an empty string and does not part the prose.
    """
    env = opened(writing)
    tokens = parsed(text, env)
    pile = _Pile(env, glosses)
    for token in tokens:
        block = block_of(token, env) if token.level == 0 else None
        if block is None:
            pile.read(token)
        elif block:
            pile.end_text()
            line = _line(token, writing)
            kind: Literal["boxes", "figure"] = "boxes" if line in drills | cautions else "figure"
            pile.add(Part(kind, (block,), cautions=int(line in cautions)))
    pile.end_text()
    return tuple(pile.parts)


def glossed(met: Iterable[Gloss], writing: Writing) -> tuple[tuple[str, Markup], ...]:
    """Terms with their meanings, ready for a template."""
    return tuple((gloss.term, render_inline(gloss.meaning, writing)) for gloss in met)


def _line(token: Token, writing: Writing) -> int:
    return writing.first_line + (token.map or [0])[0]


def _words(token: Token) -> str:
    """What a token says in prose; code explains no term."""
    return " ".join(child.content for child in token.children or [] if child.type == "text")
