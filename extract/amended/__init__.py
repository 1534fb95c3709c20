"""What is taken back or changed within one utterance, or by its opening words."""
