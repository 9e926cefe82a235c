"""Planned figures bound to their clips: panels, letters, measures."""
