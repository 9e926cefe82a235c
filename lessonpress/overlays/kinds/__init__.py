"""The kinds of overlay, a module each, and `table.py`, the one place that lists them."""
