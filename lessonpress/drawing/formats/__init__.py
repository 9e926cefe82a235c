"""The formats of drawings that travel alone, a module each, and `table.py`, the one place that lists them."""
