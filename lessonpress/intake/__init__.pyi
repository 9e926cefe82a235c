from .carry import carry_mark as carry_mark
from .carry import keep_tracks as keep_tracks
from .carry import stretch_to_carry as stretch_to_carry
from .clip import instant_frame as instant_frame
from .clip import open_clip as open_clip
from .ingest import ingest_video as ingest_video
from .sheet import sheet_around as sheet_around
from .start import start_site as start_site
