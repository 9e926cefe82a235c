"""The overlays room."""
