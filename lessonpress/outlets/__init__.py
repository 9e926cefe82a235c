"""The outlets room."""
