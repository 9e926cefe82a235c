"""The steps of a press: each makes one product of what it read, and its docket says what that was.

`table.py` lists the steps and what feeds what. A step is a function of a `Reader` and a name ("lesson
`pelvis`"); everything it uses it asks the reader for, which notes it. The product is kept in the cache under
the hash of what was noted, and made again only where one of these is another than it was (`works.py`). What a
step reads from outside (files, folders, the day, the program itself) are the inputs of `inputs.py`.

| module | has |
|---|---|
| `table` | the steps |
| `works`, `dockets`, `uses`, `reader` | what is made again and what is not; what was noted of each product |
| `inputs` | what comes from outside, by its content (`press/file_hashes.py`) |
| `digest`, `parcel` | a product's hash; a product as bytes, and back |
| `seen` | the site as a step sees it: what is read of it is noted |
| `texts`, `clips`, `bind`, `prints`, `themes`, `leaves`, `lists` | the functions of the steps |
"""
