"""The measure room."""
