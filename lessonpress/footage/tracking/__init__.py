"""Marks carried from picture to picture."""
