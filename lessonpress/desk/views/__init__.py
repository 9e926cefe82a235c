"""The site and its clips as the pages need them."""
