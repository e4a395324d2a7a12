"""Risk by documented factors, as points somebody judged: it sorts does for a look, and never stands in for a sign."""
