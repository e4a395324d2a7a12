"""What is true of the simulated does and their feed. Nothing here may be taken from the product: see ../test_apart.py."""
