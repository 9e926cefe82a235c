"""The desk: the local server behind the pages where an author marks, composes and reads the proof.

`serve.serve(root)` runs it. It is bound to loopback and speaks HTTP to the pages in `desk/pages/` and to
no one else. Everything it writes is a file of the site that an author could have written by hand.

| module | does |
|---|---|
| `serve`, `app`, `context` | open the door: address, token, lock; what every route works with |
| `guard`, `paths`, `lock` | who may ask; which files may be touched; one desk a site |
| `routes`, `endpoints`, `routelist` | the table of routes; what each does, by subject; the list of them |
| `requests`, `clicks` | what is sent, as models; one placing made of many clicks |
| `responses` | JSON answers and refusals |
| `filesave`, `versions` | how every file is edited, collisions asked about, the file saved; its version |
| `marksfile`, `cardfile`, `tracksfile`, `lessonfile` | what each kind of file has of its own in that |
| `renaming`, `clipnames`, `mentions` | a lesson or a clip renamed, with all that names it |
| `putaway` | a clip or a lesson put away and taken back |
| `yamltext`, `threeway` | edits of a YAML text by path; two changes of a text merged |
| `livesite` | the site as last read, its clips' indexes; what the rest shares |
| `pictures` | exact pictures by frame number, thumbnails |
| `motion` | the curve of change, the camera's motion |
| `siteview`, `clipview`, `numbers` | a site, a clip and numbers as JSON |
| `drafts`, `room` | a draft figure drawn, what figures need; lengths |
| `carrying`, `suggesting`, `proposing` | marks tracked; marks suggested; events proposed |
| `streaming` | work that a page watches and can stop |
| `composing`, `usual` | the text of blocks and new lessons; the site's usual plates for a clip |
| `place`, `above` | what is asked for at the cursor of a lesson's text |
| `offers`, `values`, `writablekeys`, `fieldkinds`, `known`, `words` | what the site has for that place |
| `drafting`, `slips` | a text read and measured as it is typed; its slips |
| `uploads` | a video made into a clip |
| `mailing` | a lesson written as a letter |
| `lastlook`, `answers` | what preflight finds; a finding answered in its file |
| `restoring` | what files were before they were saved |
| `proof`, `outcome`, `faults` | the site as it will be published; mistakes shown at their place |
| `watching`, `events` | files watched; what the pages hear while they are open |


HTTP
====

What each route takes is in `requests`, and listed in DEVELOPERS.md; what it gives follows.

Safety. The opening address is `http://127.0.0.1:PORT/?token=…`; it puts the run's token into a cookie
(`desk-PORT`, HttpOnly, SameSite=Strict) and goes on to `/`. Scripts need not know the token. Every request
needs a Host of this desk. Everything but GET and HEAD needs, besides, the token (the cookie, or the header
`X-Desk-Token`) and, where the browser sends one, an Origin of this desk. JSON bodies need
`Content-Type: application/json`, at most 8 MB.

Refusals have a status from 400 and

    {"error": {"reason": "one clause", "way_out": "one clause or empty"}, "problems": [Problem…]}

`problems` only where mistakes in a text are the reason (422). 403: token, Host, Origin, or a path outside the
site. 404: no such thing. 409: the file changed on disk meanwhile and the changes collide (below). 413, 415:
too large, not what it should be. 503: the machine (disk full).

    Problem = {"severity": "error"|"warning", "path", "line", "column", "wrong", "right", "nearest": [text…],
               "source_line", "told": "the whole as the terminal would print it"}

Versions are SHA-256 in hex of a file's bytes, "" where there is no file.

Edits say what was there (`was`) and what is to be there (`to`); undo is the same edit turned round.
Where the file on disk has something other than `was` at that place, and other than `to`, the edit collides:
nothing is written and the answer is 409 with `"collisions"` besides `"error"`. The same request with
`"anyway": true` then writes `to`. What changed elsewhere in the file is kept, and `"merged"` is true in the
answer when the file had changed since `"version"` (optional in the request).

Coordinates are px of the picture: x right, y down, (0, 0) the first pixel's outer corner. Frames count
from 0.

Pages
-----
    GET /                       pages/index.html; every other file of pages/ by its path (/desk.css …)
    GET /theme/PATH             files of the packaged theme (its fonts: /theme/fonts/…)
    GET /proof/PATH             the proof: the site as it will be published. A lesson with faults is shown as
                                its text, each fault below its line (`li#line-N.faulty > p.fault`, styled by
                                pages/faults.css), with a link to its last good page
    GET /good/PATH              the same, each lesson as it was when it last had no errors
Show the proof in `<iframe src="/proof/…">`: it is of this origin, so its address and place can be read. Under
the Content-Security-Policy of every page no inline script, no inline event handler and nothing from elsewhere
runs. Nor have the desk's own pages inline styles (set them by `element.style`); the proof may have them.

The site
--------
    GET /api/site ->
        {"title", "author": text|null, "folder": "its name", "units": "in"|"cm",
         "may_change": bool,   whether this browser has the token
         "suggested": bool,   whether site.yaml allows marks that are suggested
         "clips": [{"name", "title", "video", "has_card": bool, "events": [name…], "frames": N|null,
                    "size": [w, h]|null, "lessons": [name…], "poster": url|null}],
         "lessons": [{"name", "path", "title", "date", "clip", "draft", "held"}],   newest first
         "put_away": [{"path", "what": "clip"|"lesson", "name"}…],   out of the site, to be taken back
         "numbers": {id: [lesson…]},   ids of numbers that several lessons have, for a chart over these
         "sets": {name: [overlay…]}, "ranges": {name: "25..35 deg away"}, "implement": {"name", "head"},
         "marks": {"body": [name…], "implement": [name…], "thing": ["ball"]},   the known names
         "kinds": [{"kind": "shift", "letter": key that chooses it|null, "measures": bool, "least": 1,
                    "most": 1|null, "questions": [{"key", "words", "usual", "mark": bool}…],   after the marks
                    "keys": ["since", "axis", "as", …]}],   what may be added once it is drawn
         "figures": ["frame", "strip", "pair", …],
         "card": {"view": […], "hand": […], "source.kind": […], "people.consent": […]},   what may be chosen
         "problems": [Problem…]}
    GET /api/events             server-sent events (see Events)

A clip
------
    GET /api/clips/CLIP ->
        {"name", "title", "frames": N, "size": [w, h], "times": [s of the file…], "seconds": [real s…],
         "rate", "start_timecode": text|null, "fingerprint", "interlaced", "view", "hand",
         "positive_right": 1|-1, "goal": "target"|"ball", "events": {name: frame},
         "middles": {name: [mark…]}, "room": [mark…],
         "default_u": px of one click, "least_u": px that many clicks are no better than,
         "block": [what a block of a scale bar is worth in `units`, m of that unit],
         "picture": "/api/clips/CLIP/pictures/{frame}.webp?of=…",
         "stretch": "/api/clips/CLIP/stretches/{first}-{last}?of=…",   and frames' numbers for these
         "thumbnail": "/api/clips/CLIP/thumbnails/{frame}.webp?of=…",   put the frame's number for {frame}
         "lengths_refused": {"reason", "way_out"}|null, "assumptions": [text…], "px_per_metre": px|null,
         "stature": {"text": "5 ft 11 in"|null, "implied": Number with "words"|null, "from": words},
         "problems": [Problem…]}
        A clip whose card is unusable yet answers what the video says; view, hand are then null, events {}.
    GET /api/clips/CLIP/doubts -> {"warnings": [text…]}
        what does not fit together: scales that disagree, a body that cannot be. Takes a while.
    GET /api/clips/CLIP/pictures/FRAME.webp     the exact picture, lossless; cached by the browser for good
    GET /api/clips/CLIP/stretches/FIRST-LAST    the pictures from FIRST to LAST, the damaged left out, as
        they are decoded: of each its number (4 bytes, the lowest first), then its pixels row by row, a
        byte each for R, G, B and 255. A reader who stops reading stops the decoder where it is
    GET /api/clips/CLIP/thumbnails/FRAME.webp   96 px high
    GET /api/clips/CLIP/motion -> {"changes": [[frame, mean, most]…]}
        how much each picture differs from the one before (grey levels)
    GET /api/clips/CLIP/proposed -> {"events": [{"name", "frame", "within": pictures either way}…], "why"}
        the site's usual events as the film suggests them, those too that the card names; why: there are not
        more, in words. Takes some seconds, longer where bodies are seen.
    GET /api/clips/CLIP/camera ->
        {"reference": frame, "model", "frames": [[frame, right px, down px, turn deg, zoom]…],
         "unregistered": [[frame, reason]…]}     how the camera moved; right, down: of the picture's middle
        for a camera that the card says was still, reference and model are null and the lists empty

Marks
-----
    GET /api/clips/CLIP/marks ->
        {"version", "marks": {name: {"FRAME": [x, y] | [x, y, u]}}, "tracks_version",
         "tracks": {name: {"FRAME": [x, y, u, origin frame|null]}},
         "suggested": {name: {"FRAME": [x, y, u]}}, "problems": [Problem…]}
        marks in the file's order; [x, y, u, "suggested"] is a suggestion that was accepted as it was. Tracks
        and suggestions on a hand-placed frame are left out: the hand wins.
    POST /api/clips/CLIP/marks -> {"version", "merged", "edits"}
        "to": null takes the placing away; several edits are saved together or not at all
        "clicks" instead of "to": one click places, three or more keep the mean and the standard deviation
        of one click (at least half a px); two keep the mean
        The answer's edits say what was there and what is there now: turned round, they undo.
        409: "collisions": [{"mark", "frame", "was", "to", "disk"}]
    POST /api/clips/CLIP/track ->
        application/x-ndjson, a line each: {"progress": done, "of": all, "mark"} …
        ("body" in place of a mark while the golfer is looked for), then for each mark
        {"mark", "rows": [[frame, x, y, u, origin]…], "gaps": [{"first", "last", "reason"}]}, at last
        {"done": true} or {"error": …}. Nothing is written. Closing the connection stops it.
    POST /api/clips/CLIP/suggest -> {"frame", "rows": {mark: [x, y, u]}, "missing": {mark: reason}, "why"}
        Kept in suggested.csv in the place of what was suggested there before. why: the reason for none at
        all.
    POST /api/clips/CLIP/suggest-all ->
        application/x-ndjson: {"progress": done, "of": all} a picture, at last
        {"done": true, "pictures", "marks", "why"} or {"error": …}. Closing the connection stops it, and keeps
        what was found until then.
    POST /api/clips/CLIP/tracks -> {"version", "merged", "edits"}
        Puts `to` in the place of the mark's rows on frames first..last (accept, cut back with [], undo).

The card
--------
    GET /api/clips/CLIP/card -> {"version", "text", "card": {as written, numbers and texts}, "problems"}
    POST /api/clips/CLIP/card -> as GET, with "merged" and "edits"
        path: keys and list places, as ["events", "top"] (from 0; the length appends). null: not there.
        Values are what YAML would hold: "36 in", 96, ["stick-top", "stick-foot"],
        {"between": […], "length": "36 in"}. An edit that
        makes a mistake that was not there before is refused (422, problems) and nothing is written.
    POST /api/clips/CLIP/length -> {"number": Number|null, "refused": {"reason", "way_out"}|null}
        Points that are no marks are taken to lie in the subject plane.
    Number = {"value": "12.3", "pm": "0.6", "unit": "in", "way": "toward the target"|"",
              "text": "12.3 in ± 0.6 toward the target"}

Composing
---------
    POST /api/draft ->
        {"panels": [{"clip", "frame", "label", "crop": [l, t, r, b], "size": [w, h], "mirrored": bool,
                     "svg": "<svg…>", "bar": "<svg…>"|null,
                     "alt", "picture": url}],
         "measures": [{"id", "kind", "letter", "colour", "words", "number": Number|null, "refused", "way_out",
                       "answer", "frames", "marks", "narrower": [words…],
                       "budget": [{"words", "share"}…]}],
         "drawing": "<svg…>"|null,   of a chart or a plan, which have no panels
         "points": [{"label", "on", and as in measures}…],   of a chart
         "loop": {"pictures": N, "seconds": of a round, "slowed": times}|null,
         "wanted": [Wanted…], "alt", "description", "problems": [Problem…]}   lines count in `text`, from 1
        Drawn by the press's own code, from the marks on disk with the unsaved ones laid over (null: without).
        With "frame" only the panels at that frame are drawn; else of a loop the first, the middle, the last.
    POST /api/block -> {"text": YAML of the block, "block": the same inside its fences}
    GET /api/lessons/NAME/wanted ->
        {"figures": [{"id", "numeral", "kind", "line", "wanting": N}], "wanted": [Wanted…]}
        Wanted = {"clip", "mark", "frame", "figures": [id…], "numerals": ["II"…], "line", "column",
                  "placed": "hand"|"track"|"room"|null}     null: a gap; in the figures' order

Lessons
-------
    GET /api/lessons/NAME -> {"name", "path", "version", "text", "title", "clip", "problems", "blocks": [
                              {"kind", "id": text|null, "line", "last_line", "plate": id on its page|null}]}
    PUT /api/lessons/NAME -> the same, "merged"
        was: the text the author began from. Changed lines that another program wrote meanwhile are merged;
        409 where they collide: {"error", "collisions": [{"line", "was", "to", "disk"}], "disk": text,
        "version"}
        A text with mistakes is saved all the same: it is the author's, and the proof reports them.
    POST /api/lessons/NAME/offers ->
        {"of": what they are, "typed": the end of `before` that they replace, "over": the beginning of `after`
         likewise, "offers": [{"name", "text": to be put there, "words", "back": how many characters before
         its end the cursor goes}…]}
        A number has the words that it will print. "of": "" where nothing is known to be asked for.
    POST /api/lessons/NAME/slips ->
        {"problems": [Problem with "slip": the words of its line, "instead": [what may take their place…]…],
         "blocks": as in GET}
        Problems of the lesson's own text, as the press would report them. Nothing is saved.
    POST /api/lessons/NAME/name -> as GET of the new one, "changed": [path…] of texts that linked to it
        Links are led to the new name, and unless it is a draft or private its old one becomes `former`.
    POST /api/lessons/NAME/figures -> as GET, "line": of the fence
        Puts the block before that line of the file on disk, blank lines about it; past the end: at the end.
    POST /api/lessons -> 201 as GET
        Without blocks, a frame for each event; blocks are put in the order of the swing.

    POST /api/clips/CLIP/usual -> 201 as GET, "suggested": N, "missing": [{"mark", "frame"}…]
        A lesson of the usual plates (`usual`), a draft; its marks are suggested, and missing are those that
        are neither placed nor suggested. Takes a second or more where bodies are seen.

Letters
-------
    POST /api/lessons/NAME/letter ->
        {"folder": "build/mail/NAME", "files": {name: bytes}, "preview": "NAME/preview.html", "problems"}
        Writes the lesson as a letter, as `lessonpress mail` does. Nothing is sent. What keeps it from being
        sent (422): mistakes, with "problems"; a draft; a lesson that no list has, without "unlisted".
    GET /letter/PATH                    a file of build/mail, with its pictures
    GET /letter-without-pictures/PATH   the same with none, as mail programs show letters at first

The last look, and what files were
----------------------------------
    GET /api/preflight ->
        {"findings": [{"id": text|null, "rule", "severity": "error"|"severe"|"warning"|"note", "file", "line",
                       "column", "wrong", "right", "answered": reason|null}], "more": N not listed}
        What is left first, the most severe before the others; then what is answered. Takes as long as
        `lessonpress preflight`.
    POST /api/answers -> {"path"}   of the file that holds the answer
        path, finding: of a finding with an id. to: the reason; null takes it away. 409 where another is
        there.
    GET /api/saves -> {"saves": [{"number", "path", "at": ISO, "bytes", "same": bool}]}   newest first
        same: the file holds just that now
    GET /api/saves/NUMBER -> the same of one, with "lines": of a difference (-: as it is now, +: as it was)
        and "more": lines that are not listed
    POST /api/restore -> {"path", "number"}   what the file held is kept as a save of its own

Names, and what is put away
---------------------------
    POST /api/clips/CLIP/name -> {"clip", "changed": [path…] of lessons and cards that named it}
    POST /api/clips/CLIP/away, POST /api/lessons/NAME/away -> {"path": "put-away/…"}
        422 where lessons, pages or cards still name it; the reason says which.
    POST /api/put-away/back -> {"path"}   in the site again; 409 where its name is taken

New clips
---------
    POST /api/uploads?file=NAME.mp4&name=CLIP   body: the video's bytes, Content-Type video/… or
        application/octet-stream, up to 4 GB -> 201 {"clip": name}. What is no whole video is refused.

Proof
-----
    GET /api/proof -> {"state": "pressing"|"good"|"faulty"|"none", "number": N, "pressed_at": ISO|null,
                       "seconds", "pressed": [lesson…] (what was pressed anew), "pending": [lesson…],
                       "summary": text|null, "problems": [Problem…],
                       "pages": {lesson: "/proof/lessons/NAME/index.html?of=…"}}
        pages: of another address once the page is another.
        pending: lessons still to be pressed. The one last asked for comes first, the others in its wake.
    POST /api/proof -> 202   press now, though nothing was saved

Events
------
`/api/events` sends `event: NAME` with JSON `data`:
    saved   {"paths": [path…], "clips": [name…], "lessons": [name…]}    files changed on disk, by anyone
    proof   as GET /api/proof, when a press begins and ends
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
