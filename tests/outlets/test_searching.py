"""The index that browsers search: of equal records equal bytes, and nothing that no page asks for."""

from __future__ import annotations

import gzip

from lessonpress.outlets import index_of

PAGE = '<html lang="en"><body><h1>{}</h1><h2 id="plate-a">{}</h2></body></html>'
RECORDS = {
    f"lessons/{name}/index.html": PAGE.format(name, said).encode()
    for name, said in (("hips", "Impact"), ("hub", "Shift of the hub"), ("Rücken", "Setup"), ("arc", "Top"))
}


def test_the_same_records_in_another_order_give_the_same_bytes() -> None:
    made = dict(index_of(RECORDS, "en"))
    again = dict(index_of(dict(reversed(RECORDS.items())), "en"))
    assert made == again
    assert any(path.startswith("fragment/") for path in made)


def test_the_index_holds_the_records_and_the_program_for_its_language_alone() -> None:
    made = dict(index_of(RECORDS, "de-CH"))
    records = [gzip.decompress(made[path]).decode() for path in made if path.startswith("fragment/")]
    assert all(any(f'"url":"/{path}"' in one for one in records) for path in RECORDS)
    assert len(records) == len(RECORDS)
    assert {path for path in made if "/" not in path and not path.endswith("pf_meta")} == {
        "pagefind-entry.json",
        "pagefind-worker.js",
        "pagefind.js",
        "wasm.de.pagefind",
    }
