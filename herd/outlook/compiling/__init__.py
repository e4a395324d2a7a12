"""From one doe's recorded state to her outlook: facts, days, needs, plan."""
