"""The body of a lesson: its prose and, in their places, its plates, cautions and drills.

Text between two figures is one run; the terms it uses first are explained in the margin beside it. Cautions
and drills that follow one another stand side by side where the page is wide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
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
    """Parts as they are gathered."""

    parts: list[Part]

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
    pile, run = _Pile([]), list[Token]()
    for token in tokens:
        block = block_of(token, env) if token.level == 0 else None
        if block is None:
            run.append(token)
        elif block:
            _add_prose(pile, run, env, glosses)
            kind: Literal["boxes", "figure"] = "boxes" if _line(token, writing) in boxes else "figure"
            pile.add(Part(kind, (block,)))
            run = []
    _add_prose(pile, run, env, glosses)
    return tuple(pile.parts)


def _line(token: Token, writing: Writing) -> int:
    return writing.first_line + (token.map or [0])[0]


def _add_prose(pile: _Pile, tokens: Sequence[Token], env: Env, glosses: Glosses) -> None:
    html = rendered(tokens, env)
    if html.strip():
        met = glosses.first_met_in(" ".join(_words(token) for token in tokens))
        writing: Writing = env[WRITING]
        told = tuple((gloss.term, render_inline(gloss.meaning, writing)) for gloss in met)
        pile.add(Part("prose", (html,), told))


def _words(token: Token) -> str:
    """What a token says in prose; code explains no term."""
    return " ".join(child.content for child in token.children or [] if child.type == "text")
