"""A clip as written: its card, its marks by hand, its tracks."""
