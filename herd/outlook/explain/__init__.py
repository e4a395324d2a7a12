"""Every number behind a doe's prompt as readable text, taken from the evaluator the prompt came out of."""
