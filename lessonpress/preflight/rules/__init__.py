"""The rules, one a module; `preflight/table.py` lists them."""
