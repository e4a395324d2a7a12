"""Other published systems and rules of thumb, worked from their own tables. The product never runs them."""
