"""Video files: which pictures they hold, and those pictures exactly."""
