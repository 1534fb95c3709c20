"""The words of an utterance: tokens, vocabulary, noun phrases, clauses and what they name."""
