"""Readings held against the rules, with what a check needs gathered around them; why one may be wrong."""
