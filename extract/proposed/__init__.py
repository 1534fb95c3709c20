"""Proposed violations, from readings and from observed conditions, and what must be asked about them."""
