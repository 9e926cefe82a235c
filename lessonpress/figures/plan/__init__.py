"""Figure blocks read and checked: their frames, their overlays, the marks that they need."""
