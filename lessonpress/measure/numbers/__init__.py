"""Units, signs in words, ranges and rounding: how a number is printed. No arrays."""
