"""The command line of this stage: one module a call."""
