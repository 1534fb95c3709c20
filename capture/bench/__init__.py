"""Benchmarks of the speech stage, beside plain faster-whisper with the same model and threads."""
