"""The way in: a new site laid out, a video made into a clip with what the file itself says."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
