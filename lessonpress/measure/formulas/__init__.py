"""Published formulas as pure functions over arrays: no uncertainty, no words, no camera."""
