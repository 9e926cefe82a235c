"""Files to text that knows its locations."""
