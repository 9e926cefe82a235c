"""Lessonpress: a press for illustrated, measured swing lessons."""
