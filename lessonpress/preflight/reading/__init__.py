"""What rules share of reading a sentence: where it ends, its numbers, what they are said of."""
