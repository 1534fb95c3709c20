"""The figures of an utterance: numbers as said and printed, with their units; times, dates and counts."""
