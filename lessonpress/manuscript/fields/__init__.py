"""Nodes to typed values: what a field takes, and what is said of a value that it does not."""
