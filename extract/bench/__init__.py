"""Benchmarks of the extraction stage, each beside a plain alternative in the same run."""
