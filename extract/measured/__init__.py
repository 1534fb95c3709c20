"""Readings from figures: kind, unit, stage, item, place, agent and time, each kind by its own rules."""
