"""The press room."""
