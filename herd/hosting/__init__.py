"""How this is put on a machine for good: the files for it, and the worker that serves."""
