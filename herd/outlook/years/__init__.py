"""What the years on a farm have shown: kiddings looked back at, and what was learned from them. Read from the log once
a night; kept as a document of no doe, so that phones have it without a signal."""
