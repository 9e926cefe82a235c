"""The proof: the site as it will be published, pressed again as its files change."""
