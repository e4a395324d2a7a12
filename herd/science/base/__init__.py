"""What every room stands on: numbers by day, errors, ranges, choices, the record of what ran."""
