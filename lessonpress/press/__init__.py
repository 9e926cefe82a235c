"""The press room: plans the jobs, keeps the cache, spreads the work and swaps the finished site in whole.

`run.press` is the way in. What it makes is built aside, in a sibling of the output folder, and takes the
folder's place by renaming when it is complete; until then the last good site stays.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
