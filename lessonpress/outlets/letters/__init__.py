"""Letters: lessons as mail. A letter is one HTML text and what is made of it.

| module | makes |
|---|---|
| `article` | what a letter has of one lesson: its words, plates, cautions and credits |
| `letter` | the HTML, with its styles on its elements |
| `plaintext` | the same letter in plain text |
| `message` | the draft that a mail program opens |
| `sources` | where a letter's pictures come from |
"""
