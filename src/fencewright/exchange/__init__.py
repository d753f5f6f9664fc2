"""Files of the outside world: a module per format, reader and writer together."""
