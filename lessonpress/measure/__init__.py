"""Points become numbers with their uncertainty: no files, no pictures.

Usable from a notebook by itself: build a `Setting` (how a clip was filmed), hand it to `Survey` with the
clip's observations, and ask for measures. Every number comes back as a `Measured` with its budget, or as a
`Refusal` that is false and says why and what to do.

Picture points are px of the upright picture: x right, y down, (0, 0) the outer corner of the first pixel.
Room points are metres: X level and to the right of the picture, Y up, depth toward the camera from the
subject plane; the lens is at X = Y = 0 and depth D. Signs are turned toward target or ball last.

Other rooms import from here alone. `__init__.pyi` lists what there is, once, for this module and for the type
checker: a name's module is imported when the name is first used, so that units and printing need no arrays.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
