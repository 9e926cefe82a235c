"""A lesson's text while it is written: what fits at the cursor, and slips in what is not saved yet."""
