"""The last look before publishing: what a careful editor would ask about, with where and how to correct it.

One rule is one module of `rules/`, and `table.py` lists them. A rule reads what the steps of a press have
made (a lesson bound to its clips, cards, pressed pages) and yields findings; `reading/` is what rules share
of reading a sentence, `words/` their word lists, a file a language. `answers.py` holds findings against what
the author has answered under `meant`.

Findings are questions. None of them stops a press, none changes a page, and the program gives no legal and no
medical advice: what is found here is for an author to judge.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
