"""Damaged WebM films held against a plain decode: `python -m tests.damaged --films 70 --seed 1`."""
