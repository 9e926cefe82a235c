"""What leaves a site beside its pages: each lesson's data, each plate as a picture of its own, feeds, a map.

| module | makes |
|---|---|
| `ledger` | `measures.json`, `measures.csv` of a lesson |
| `diagrams` | each panel of a plate and each chart as a file of its own, in every format |
| `feeds` | `feed.xml` (Atom), `feed.json` (JSON Feed), of the site and of each topic |
| `measures` | `measures.csv`, `measures.jsonl` of the whole site, and what their fields mean |
| `offline` | what a browser needs to keep the site: lists of files by hash, its worker, the manifest |
| `sitemap` | `sitemap.xml`, `robots.txt` |
| `letters/` | lessons as mail: HTML, plain text, a draft |
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
