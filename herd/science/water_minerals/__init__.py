"""The herd's minerals and water."""
