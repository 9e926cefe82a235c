"""The body of a lesson: its prose and, in their places, its plates, cautions and drills.

Text between two figures is one run; the terms it uses first are explained in the margin beside it. Cautions
and drills that follow one another stand side by side where the page is wide.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from markdown_it.token import Token
from markupsafe import Markup

from lessonpress.pages.glossary import Glosses
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
    """kind "prose": html with the glosses beside it; "figure": a plate; "boxes": cautions and drills."""

    kind: Literal["prose", "figure", "boxes"]
    html: tuple[Markup, ...]
    glosses: tuple[tuple[str, Markup], ...] = ()  # term, meaning


@dataclass
class _Pile:
    """Parts as they are gathered, in the order of the page, and the tokens of the run of text at its end.

    Text is printed before the block that follows it, since numbers are counted as they are printed. html: of
    the run so far. words: what it says.
    """

    env: Env
    glosses: Glosses
    parts: list[Part] = field(default_factory=list)
    run: list[Token] = field(default_factory=list)
    html: Markup = field(default_factory=Markup)
    words: list[str] = field(default_factory=list)

    def print_run(self) -> None:
        """Print the tokens that wait; what follows may still go on with the same text."""
        self.html += rendered(self.run, self.env)
        self.words += [_words(token) for token in self.run]
        self.run = []

    def end_run(self) -> None:
        """Make a part of the text, with the terms that it uses first."""
        self.print_run()
        if self.html.strip():
            writing: Writing = self.env[WRITING]
            met = self.glosses.first_met_in(" ".join(self.words))
            told = tuple((gloss.term, render_inline(gloss.meaning, writing)) for gloss in met)
            self.add(Part("prose", (self.html,), told))
        self.html, self.words = Markup(), []

    def add(self, part: Part) -> None:
        last = self.parts[-1] if self.parts else None
        if last is not None and part.kind == last.kind == "boxes":
            self.parts[-1] = Part("boxes", last.html + part.html)
        else:
            self.parts.append(part)


def parts(text: str, writing: Writing, glosses: Glosses, boxes: frozenset[int]) -> tuple[Part, ...]:
    """The body in order. boxes: file lines of the fences that are cautions or drills.

    A block that is printed elsewhere on the page comes as an empty string and does not part the prose.
    """
    env = opened(writing)
    tokens = parsed(text, env)
    pile = _Pile(env, glosses)
    for token in tokens:
        if token.level == 0 and token.type == "fence":
            pile.print_run()
        block = block_of(token, env) if token.level == 0 else None
        if block is None:
            pile.run.append(token)
        elif block:
            pile.end_run()
            kind: Literal["boxes", "figure"] = "boxes" if _line(token, writing) in boxes else "figure"
            pile.add(Part(kind, (block,)))
    pile.end_run()
    return tuple(pile.parts)


def _line(token: Token, writing: Writing) -> int:
    return writing.first_line + (token.map or [0])[0]


def _words(token: Token) -> str:
    """What a token says in prose; code explains no term."""
    return " ".join(child.content for child in token.children or [] if child.type == "text")
