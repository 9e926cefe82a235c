"""How the camera moved, and how much the pictures change."""
