"""Strokes, signs and fills as drawn, and what lies on a picture that tags must keep clear of."""
