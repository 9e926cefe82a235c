"""What leaves a site beside its pages: each lesson's data, each plate as a picture of its own, feeds, a map.

| module | makes |
|---|---|
| `ledger` | `measures.json`, `measures.csv` of a lesson |
| `diagrams` | a standalone SVG and PNG of each panel of a plate, and of each chart |
| `feeds` | `feed.xml` (Atom), `feed.json` (JSON Feed) |
| `sitemap` | `sitemap.xml`, `robots.txt` |
"""
