"""What is wrong with this server, and what to do about it, in words for whoever keeps it running."""
