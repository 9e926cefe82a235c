"""Bound lessons and their pictures → the pages that readers see, through a theme.

`render_site(bound, pictures, theme)` yields (path, bytes), paths relative to the output folder.
`wanted(bound)` says which pictures a site needs; the press makes them and hands them back as a
`PictureBook`. `links` says where the pages expect diagrams and data.
"""

from __future__ import annotations

from lessonpress.pages.pictures import Picture, PictureBook, Shot, Wanted, wanted
from lessonpress.pages.site import render_site
from lessonpress.pages.theme import Theme

__all__ = ["Picture", "PictureBook", "Shot", "Theme", "Wanted", "render_site", "wanted"]
