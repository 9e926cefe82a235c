"""What every route of the desk works with."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from starlette.requests import Request

from lessonpress.desk.http.events import Events
from lessonpress.desk.http.paths import clip_folder, lesson_file
from lessonpress.desk.http.responses import RequestError
from lessonpress.desk.preview.proof import Proof
from lessonpress.desk.preview.watching import Watch
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.views.pictures import Pictures
from lessonpress.desk.writing.drafting import Drafting


@dataclass(frozen=True)
class Desk:
    """The site, its pictures, its proof, who listens, and texts that are being written."""

    live: LiveSite
    pictures: Pictures
    proof: Proof
    events: Events
    watch: Watch
    drafting: Drafting

    @classmethod
    def of(cls, root: Path, *, own_themes: bool = False) -> Desk:
        """The desk of a site. root: its folder."""
        live = LiveSite(root.resolve(), own_themes)
        proof, events = Proof(live), Events()
        return cls(live, Pictures(live.cache), proof, events, Watch(live.root, proof, events), Drafting(live))

    @property
    def root(self) -> Path:
        return self.live.root

    def file_of_clip(self, request: Request, name: str) -> Path:
        """A file of the clip that is asked for, there or not. Raises RequestError for a link."""
        file = clip_folder(self.root, request.path_params["clip"]) / name
        if file.is_symlink():
            raise RequestError(
                403, f"{name} is a link, which may lead out of the site", "put the file itself there"
            )
        return file

    def lesson(self, request: Request) -> Path:
        return lesson_file(self.root, request.path_params["lesson"])
