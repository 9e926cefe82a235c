"""Lessonpress: a press for illustrated, measured swing lessons."""

__version__ = "0.1.0"
