"""Where rules and second reader do not agree on a figure: which is believed, and what is doubted."""
