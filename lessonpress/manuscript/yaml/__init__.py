"""YAML composed to nodes that know their locations, and its mistakes in words an author can act on."""
