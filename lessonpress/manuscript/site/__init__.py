"""A whole site: its settings, its glossary, and everything under its folder."""
