"""What a figure is for: a reading, a limit, a set point, a label, an earlier visit, a plan."""
