"""The doe herself: weight, condition, growth, and the litter she carries."""
