"""Figure blocks bound to their clips: frames needed, shapes, measures, sentences.

`bind_site` is the way in. What comes out (plates.py) holds no pixels, no SVG and no HTML.
"""

from lessonpress.figures.bind.site import bind_site, clips_in_use

__all__ = ["bind_site", "clips_in_use"]
