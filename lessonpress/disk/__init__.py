"""The disk room: what every writer needs of the file system, and nothing of what is written.

Files are written whole or not at all (`atomic.py`), a hold on something ends with the process that has it
(`lock.py`),
and one folder takes another's place in one step (`exchange.py`).
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
