"""Tags: what they say, how wide they come out, and a position for each, clear of all else."""
