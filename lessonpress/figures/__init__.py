"""The figures room."""
