"""What is known of bodies: proportions, masses, and where marks lie toward the camera."""
