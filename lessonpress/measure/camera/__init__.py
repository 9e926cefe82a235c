"""Where the camera stood and how it was held, solved from plumb lines, known lengths and stated distances."""
