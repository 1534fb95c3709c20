"""What it means: readings, conditions, verdicts, proposed violations."""
