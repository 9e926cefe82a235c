"""The card of a still picture of the author's own, beside the picture."""
