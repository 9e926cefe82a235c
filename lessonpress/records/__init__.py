"""Plain shared types: what every room may import, and nothing that does work.

Lengths are metres, times seconds, angles degrees where they are printed and radians inside formulas.
Picture coordinates: x right, y down, (0, 0) the outer corner of the first pixel of the upright picture.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
