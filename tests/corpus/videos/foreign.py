"""What is no film: playlists, texts, pictures, archives and nothing, and films under another name."""

from __future__ import annotations

from random import Random

from tests.corpus.videos.film import Damaged, Films, chosen

THINGS: dict[str, bytes] = {
    "nothing": b"",
    "zeros": bytes(5000),
    "a playlist of the network": b"#EXTM3U\n#EXTINF:1,\nhttp://127.0.0.1:9/x.ts\n#EXT-X-ENDLIST\n",
    "a playlist of a file": b"#EXTM3U\n#EXTINF:1,\nfile:///etc/passwd\n#EXT-X-ENDLIST\n",
    "a list of files": b"ffconcat version 1.0\nfile /etc/passwd\n",
    "a manifest": b'<MPD xmlns="urn:mpeg:dash:schema:mpd:2011"><BaseURL>/etc/</BaseURL></MPD>',
    "a session": b"v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nm=video 9 RTP/AVP 96\n",
    "a drawing": b'<svg xmlns="http://www.w3.org/2000/svg"><image href="/etc/passwd"/></svg>',
    "a text": b"title: not a film\n" * 200,
    "a bitmap's head": b"BM" + bytes(200),
    "a GIF's head": b"GIF89a\x01\x00\x01\x00\x80\x00\x00" + bytes(40),
    "an archive's head": b"PK\x03\x04" + bytes(100),
    "a sound's head": b"RIFF\x24\x00\x00\x00WAVEfmt \x10\x00\x00\x00" + bytes(40),
}
ENDINGS = (
    ".mp4",
    ".mov",
    ".mkv",
    ".avi",
    ".ts",
    ".webm",
    ".m3u8",
    ".txt",
    ".png",
    ".ffconcat",
    ".sdp",
    ".mpd",
    ".yaml",
)


def damaged(films: Films, random: Random) -> Damaged:
    ending = random.choice(ENDINGS)
    if random.random() < 0.3:
        suffix, data = chosen(films, random)
        return Damaged(ending, bytes(data), f"{suffix} under another name")
    name = random.choice(list(THINGS))
    return Damaged(ending, THINGS[name], name)
