"""Tests of what utterances mean. Every name, place and event in them is invented."""
