"""Nothing that leaves the press says where, when or with what it was made: every picture and film."""

from __future__ import annotations

from collections import Counter
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageCms
from PIL.PngImagePlugin import PngInfo

from lessonpress.intake import sheet_of
from lessonpress.press.letters import MailOptions, write_letters
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.press.bare import kind_of, said_beside, within

GPS, MAKE, TIME = 0x8825, 0x010F, 0x0132  # tags of Exif 2.32
XMP = b'<?xpacket begin=""?><x:xmpmeta xmlns:x="adobe:ns:meta/">Saltmarsh</x:xmpmeta>'
CARD = "source: {kind: own}\npeople: []\n"
LOOP = """\
---
title: Round
date: 2026-11-24
clip: dune-face-on
---

```loop
id: round
from: setup
to: top
```
"""
SUFFIXES = {"JPEG": "jpg", "MPO": "jpeg", "PNG": "png", "WEBP": "webp", "GIF": "gif", "AVIF": "avif"}


def told(folder: Path) -> tuple[dict[str, list[str]], Counter[str]]:
    """What each picture or film in a folder says beside itself, and how many of each kind there are."""
    said, kinds = {}, Counter[str]()
    for path in sorted(one for one in folder.rglob("*") if one.is_file()):
        content = path.read_bytes()
        for one in [content] if kind_of(content) else within(content):
            kinds[kind_of(one)] += 1
            if beside := said_beside(one):
                said[path.relative_to(folder).as_posix()] = beside
    return said, kinds


def test_every_picture_and_film_that_leaves_the_press_is_bare(own_site: Path) -> None:
    """Plates, diagrams, social cards, a loop with its poster, icons, what SVGs hold; a letter; a sheet."""
    (own_site / "lessons" / "round.md").write_text(LOOP, encoding="utf-8")
    done = press(own_site, own_site / "build/site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors
    said, kinds = told(own_site / "build/site")
    assert said == {}
    assert kinds.keys() == {"png", "webp", "film"}
    (letter,) = write_letters(own_site, ["pelvis"], MailOptions(attach=True), Silent()).folders
    sheet = sheet_of(own_site, "dune-face-on", "top").path
    for place in (letter, sheet.parent):
        said, kinds = told(place)
        assert said == {} and kinds.total()


def _telling(kind: str) -> bytes:
    """A picture that says all that its format lets it say."""
    exif, facts = Image.Exif(), PngInfo()
    exif[MAKE], exif[TIME], exif.get_ifd(GPS)[2] = "Saltmarsh", "2026:11:01 09:00:00", (54.0, 10.0, 30.0)
    facts.add_text("Location", "54 N, 10 E")
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    profile[48:52], profile[80:84] = b"SALT", b"MARS"
    more: dict[str, object] = {"exif": exif, "icc_profile": bytes(profile), "xmp": XMP}
    more |= {"PNG": {"pnginfo": facts}, "JPEG": {"comment": b"x264"}, "GIF": {"comment": b"x264"}}.get(
        kind, {}
    )
    if kind == "MPO":  # what phones write that keep a second picture for brighter screens
        more |= {"save_all": True, "append_images": [Image.new("RGB", (40, 30), "grey")]}
    written = BytesIO()
    Image.new("RGB", (80, 60), "olive").save(written, kind, **more)
    return written.getvalue()


@pytest.fixture
def photographs(tmp_path: Path) -> Path:
    """A site of one lesson with a picture in each format."""
    root = tmp_path / "notebook"
    (root / "lessons").mkdir(parents=True)
    (root / "site.yaml").write_text("title: Notebook\nurl: https://example.org\n", encoding="utf-8")
    words = "---\ntitle: All of them\ndate: 2026-11-02\n---\n"
    for kind, suffix in SUFFIXES.items():
        name = f"bag-{kind.lower()}.{suffix}"
        (root / "lessons" / name).write_bytes(_telling(kind))
        (root / "lessons" / f"{name}.yaml").write_text(CARD, encoding="utf-8")
        words += f"\n![A bag.]({name})\n"
    (root / "lessons" / "all.md").write_text(words, encoding="utf-8")
    return root


def test_photographs_in_every_format_come_out_bare_with_their_colours(photographs: Path) -> None:
    filed, _ = told(photographs / "lessons")
    assert len(filed) == len(SUFFIXES), "each says something before"
    done = press(photographs, photographs / "build/site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors
    out = photographs / "build/site"
    said, kinds = told(out / "files")
    said |= told(out / "pictures")[0]
    assert said == {}
    assert kinds.keys() == {"jpeg", "png", "webp", "gif", "avif"}
    for path in (out / "files").rglob("bag-*"):
        with Image.open(path) as picture:
            assert getattr(picture, "n_frames", 1) == 1
            red, green, blue = picture.convert("RGB").getpixel((40, 30))
            assert max(abs(red - 128), abs(green - 128), abs(blue)) < 6
