"""What the author wrote, as typed objects that know their file, line and column.

A subject a module, from text to site: `files` (bytes to text), `passage` (text with locations), `coreschema`
and `nodes` (YAML), `written` with `complaints` and `wording` (mappings to models, mistakes in our own words),
`fieldtypes` with `instants`, `quantities` and `expectations`, `rights`, then `card` of a clip and of a still,
`marks`, `tracks`, `clip`, `markdown`, `prose`, `sourcelinks`, `lesson`, `page`, `site`, and `reading`, which
reads a whole site.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
