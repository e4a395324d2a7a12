"""The herd's mineral and water card: what was fed, what it holds, what the water brings."""
