"""A lesson's text while it is written: what may stand at the cursor, and slips in what is not saved yet."""
