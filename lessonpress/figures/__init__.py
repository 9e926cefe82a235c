"""Figure blocks bound to their clips: frames needed, shapes, measures, sentences.

`begin_lesson` and `finish_lesson` are the way in. What comes out (plates.py) holds no pixels, SVG or HTML.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
