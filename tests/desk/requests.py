"""Sound requests of every route that takes something, and each with one value spoilt.

A body is spoilt in its JSON text, since numbers without bounds, NaN and halves of a letter can be sent and
are no Python value.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from lessonpress.footage import can_suggest
from tests.corpus.texts.fields import Field, Raw, flow, paths_in, replaced
from tests.corpus.texts.values import VALUES as WRITTEN

CLIP, LESSON = "/api/clips/dune-face-on", "/api/lessons/pelvis"
PLACED = {"mark": "navel", "frame": 1, "was": None, "to": [200.5, 100.5, 0.8]}

# each as JSON: of another type, empty, huge, foreign, and what JSON can say and other texts cannot
SENT = (
    *("null", "true", '""', "[]", "{}", "0", "-1", "1.5", "NaN", "-Infinity", "1e308", "1e400", "9" * 4000),
    *("9" * 299, "9" * 19, '"9999999999"', '"\\ud800"', '"\\u0000"', '"\\u202e"', '"\\u2028"', '"\\u0085"'),
    *("[[[]]]", '[{"a": [null]}]', '{"a": {"": 1}}', '{"\\ud800": "\\ud800"}', "[" * 900 + "]" * 900),
    *('{"a":' * 300 + "1" + "}" * 300, '["navel", "navel"]', "[1, 2]", "[NaN, 1]", "[-5, 1e7]"),
    *(json.dumps(text) for text in ("navel", "nowhere", "../../etc", "a\nb: c", "x" * 3000, "CON", "٣")),
    *(json.dumps(one) for one in WRITTEN if not isinstance(one, Raw) and len(one) < 4000),
)
# of an address, percent-encoded
PARTS = (
    *("..", "%2e%2e%2fetc", "%00", "%0a", "%ff", "%ed%a0%80", "x" * 200, "x" * 5000, "CON", "-1", "9" * 5000),
    *("%D9%A3", "1.5", "navel", "a%20b", "%C3%A9", ".", "%5c", "~", "nul.", "1e3", "%E2%80%AE"),
)


@dataclass(frozen=True)
class Request:
    """slot: what was spoilt, "" for a sound request. body: JSON, None where nothing is sent."""

    method: str
    path: str
    body: str | None = None
    slot: str = ""

    def __str__(self) -> str:
        return f"{self.method} {self.path[:80]} {self.slot[:120]}"


def _post(path: str, **body: Any) -> Request:
    return Request("POST", path, json.dumps(body))


SOUND: tuple[Request, ...] = (
    _post(f"{CLIP}/marks", edits=[PLACED], version="", anyway=True),
    _post(
        f"{CLIP}/marks", edits=[{"mark": "head", "frame": 2, "was": None, "clicks": [[9, 9], [8, 9], [9, 7]]}]
    ),
    _post(
        f"{CLIP}/marks",
        edits=[{"mark": "crown", "frame": 3, "was": None, "to": [9, 9, 8, "suggested"]}],
        anyway=True,
    ),
    *((_post(f"{CLIP}/suggest", frame=3),) if can_suggest() else ()),
    _post(f"{CLIP}/track", **{"marks": ["navel"], "from": 2, "to": 4}),
    _post(
        f"{CLIP}/tracks",
        edits=[{"mark": "navel", "first": 1, "last": 3, "was": [], "to": [[2, 200.5, 100.5, 0.4]]}],
        anyway=True,
    ),
    _post(
        f"{CLIP}/card", edits=[{"path": ["events", "top"], "was": None, "to": 14}], version="", anyway=True
    ),
    _post(
        f"{CLIP}/card", edits=[{"path": ["scale", 0, "length"], "was": "36 in", "to": "35 in"}], anyway=True
    ),
    _post(
        f"{CLIP}/length", frame=0, a=[100, 100], b="navel", axis="level", marks={"navel": {"0": [90, 90, 1]}}
    ),
    _post(
        "/api/draft",
        clip="dune-face-on",
        kind="frame",
        text="id: a\nat: top\ndraw:\n  - shift: navel\n",
        lesson="pelvis",
        width=640,
        crop="own",
        marks={"navel": {"0": [90.5, 90.5], "1": None}},
    ),
    _post(
        "/api/block",
        kind="frame",
        fields={"id": "a", "at": "top", "draw": [{"shift": "navel", "since": "setup"}]},
    ),
    _post(
        "/api/lessons",
        name="fresh",
        title="A title",
        clip="dune-face-on",
        date="2026-11-23",
        blocks=["```frame\nid: a\nat: top\n```\n"],
    ),
    _post(
        f"{LESSON}/offers", before="---\ntitle: A\ndate: 2026-11-23\n---\n\nSee {", after="figure:setup}.\n"
    ),
    _post(f"{LESSON}/slips", text="---\ntitle: A\ndate: 2026-11-23\n---\n\nSee {figure:setup}.\n"),
    _post("/api/lessons/kinds/name", to="kinds-once"),
    _post("/api/clips/shingle-face-on/name", to="shingle"),
    _post("/api/lessons/kinds/away"),
    _post("/api/clips/shingle-face-on/away"),
    _post(f"{CLIP}/usual", name="usual", title="A", date="2026-11-23"),
    Request(
        "PUT",
        LESSON,
        json.dumps({"was": "a\n", "to": "---\ntitle: A\ndate: 2026-11-23\n---\n", "anyway": True}),
    ),
    _post(f"{LESSON}/figures", block="```frame\nid: a\nat: top\n```\n", line=9),
    *(
        Request("GET", f"/api/{path}")
        for path in ("site", "proof", "lessons/pelvis", "lessons/pelvis/wanted")
    ),
    *(
        Request("GET", f"{CLIP}{path}")
        for path in ("", "/marks", "/card", "/motion", "/proposed", "/camera", "/doubts")
    ),
    *(Request("GET", f"{CLIP}/{kind}/3.webp") for kind in ("pictures", "thumbnails")),
    *(Request("GET", path) for path in ("/theme/theme.yaml", "/index.html")),
)
# nothing is there before the first press, and whatever is asked for instead is not there either
PRESSED = tuple(Request("GET", path) for path in ("/proof/lessons/pelvis/", "/good/index.html"))


def spoilt(sound: Request) -> Iterator[Request]:
    """A request with each value of its body wrong, each key left out, each part of its address foreign."""
    if sound.body is not None:
        data = json.loads(sound.body)
        for field in paths_in(data):
            where = ".".join(map(str, field))
            if isinstance(field[-1], str):
                yield replace(sound, body=flow(_without(data, field)), slot=f"without {where}")
            for value in SENT:
                yield replace(sound, body=flow(replaced(data, field, Raw(value))), slot=f"{where}: {value}")
        yield from (replace(sound, body=text, slot=f"body: {text}") for text in SENT)
    parts = sound.path.split("/")
    for at, part in enumerate(parts[2:], 2):
        for value in PARTS:
            spoiled = value + ".webp" if part.endswith(".webp") else value
            path = "/".join([*parts[:at], spoiled, *parts[at + 1 :]])
            yield replace(sound, path=path, slot=f"part {at} of the address")


def _without(data: Any, field: Field) -> Any:
    holder = data
    for part in field[:-1]:
        holder = holder[part]
    kept = {key: value for key, value in holder.items() if key != field[-1]}
    return replaced(data, field[:-1], kept)
