"""Inputs with their uncertainties, and what they make of a number: propagation, budget, result, refusal."""
