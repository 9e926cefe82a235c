"""The pages room."""
