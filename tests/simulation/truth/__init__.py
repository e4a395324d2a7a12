"""What is true of the simulated does and their feed. Nothing of it is taken from the product: ../test_apart.py."""
