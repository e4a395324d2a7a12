"""Simulated farms. Their truth is drawn from other published coefficients, noise and habits than the product's own.

What differs: maintenance, the litter's curve and its efficiency, milk energy, appetite, hay energy, waste, pecking
order, tape, scan, scorers, missed taps, and what a unit of condition costs. See truth.py for each source.
"""
