"""The boxes of MP4 (ISO/IEC 14496-12) broken: sizes, time tables, edit lists, sizes of the picture."""

from __future__ import annotations

from random import Random

from tests.corpus.videos.film import Damaged, Films, chosen, ending_of

BOXES = (
    b"ftyp",
    b"moov",
    b"mvhd",
    b"trak",
    b"tkhd",
    b"mdhd",
    b"hdlr",
    b"stsd",
    b"stts",
    b"ctts",
    b"stss",
    b"stsc",
    b"stsz",
    b"stco",
    b"elst",
    b"edts",
    b"mdat",
    b"avcC",
    b"hvcC",
    b"avc1",
)
NUMBERS = (0, 1, 7, 0x7FFF_FFFF, 0x8000_0000, 0xFFFF_FFFF, 60_000)


def damaged(films: Films, random: Random) -> Damaged:
    suffix, data = chosen(films, random, random.choice((".mp4", ".mov")))
    box = random.choice([name for name in BOXES if name in data])
    at = data.index(box)
    kind = random.choice(("size", "name", "number", "number", "number", "gone"))
    number = random.choice(NUMBERS)
    if kind == "size":
        data[at - 4 : at] = number.to_bytes(4, "big")
    elif kind == "name":
        data[at : at + 4] = b"free"
    elif kind == "number":
        word = at + 4 + 4 * random.randrange(12)
        data[word : word + 4] = number.to_bytes(4, "big")
    else:
        size = int.from_bytes(data[at - 4 : at], "big")
        del data[at - 4 : at - 4 + size]
    return Damaged(ending_of(suffix), bytes(data), f"{suffix}, {kind} of {box.decode()} ({number})")
