"""When: gestation, phases and lanes."""
