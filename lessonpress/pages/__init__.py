"""Bound lessons and their pictures → the pages that readers see, through a theme.

Each page is a function of a `PageContext` that gives (path, bytes), paths relative to the output folder.
`wanted(bound)` says which pictures a site needs; the press makes them and returns them as a
`PictureBook`. `links` says where the pages expect diagrams and data.
"""

from __future__ import annotations

from lessonpress.pages.pictures import Picture, PictureBook, Shot, WantedShot, wanted_shots
from lessonpress.pages.theme import Theme

__all__ = ["Picture", "PictureBook", "Shot", "Theme", "WantedShot", "wanted_shots"]
