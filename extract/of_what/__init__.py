"""What a figure is of: its subject, and at which stage of its life that was measured."""
