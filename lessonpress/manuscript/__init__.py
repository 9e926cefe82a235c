"""The manuscript room."""
