"""Parts of reading a laboratory report. All arithmetic is on whole ten-thousandths, so that a phone gets the same."""
