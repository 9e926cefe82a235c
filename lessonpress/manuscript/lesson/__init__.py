"""Lessons and pages: front matter, prose, blocks, links."""
