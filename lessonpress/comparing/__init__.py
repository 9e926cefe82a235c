"""A published lesson held against another clip: which plates can be, what that clip lacks, the draft.

| module | what |
|---|---|
| `pairings` | the lesson's plates, each as the pair that it becomes |
| `lacking` | the events, middles and marks that the other clip still needs for them |
| `drafting` | the private lesson: pairs, sentences, a table of differences |
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
