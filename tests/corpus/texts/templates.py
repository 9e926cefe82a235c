"""The syntax of templates and of formatting in every field: text, and nothing to be worked out."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.case import CANARY
from tests.corpus.texts.fields import replace_a_field

TEMPLATES = (
    "{{ 7 * 7 }}",
    "{{ cycler.__init__.__globals__.os.popen('touch " + CANARY + "').read() }}",
    "{% include '/etc/passwd' %}",
    "{% raw %}",
    "{# a comment",
    "{0.__class__}",
    "{title}",
    "%s%s%s%n",
    "${HOME}",
    "$(touch " + CANARY + ")",
    "`touch " + CANARY + "`",
    "#{7*7}",
    "<%= 7*7 %>",
    "{navel-back}{navel-back}",
    "{navel-back.value.__class__}",
    "\\{navel-back\\}",
)


def spoil(root: Path, random: Random) -> str:
    return replace_a_field(root, random, random.choice(TEMPLATES))
