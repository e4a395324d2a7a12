"""The herd's mineral and water card: one card for the herd, never a verdict on one doe."""
