"""The footage room."""
