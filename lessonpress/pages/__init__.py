"""Bound lessons and their pictures → the pages that readers see, through a theme.

Each page is a function of a `PageContext` that gives (path, bytes), paths relative to the output folder.
`wanted(bound)` says which pictures a site needs; the press makes them and returns them as a
`PictureBook`. `links` says where the pages expect diagrams and data.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
