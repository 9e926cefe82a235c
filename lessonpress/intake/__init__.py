"""The way in: a new site laid out, a video made into a clip with what the file itself says."""
