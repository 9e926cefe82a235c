"""Still pictures of the author's own, taken in for publishing: photographs and drawings."""
