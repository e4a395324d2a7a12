"""What she eats and may eat: appetite, grain and forage limits, pasture."""
