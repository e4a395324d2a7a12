"""A farm on its way out and in: one ZIP that a person can read, and that another server can take."""
