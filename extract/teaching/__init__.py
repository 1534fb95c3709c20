"""How the weights of second reader and likeness are learned (`make weights`); no inspection runs it."""
