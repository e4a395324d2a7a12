"""Every number behind a doe's prompt as readable text, taken from the very functions the prompt came out of."""
