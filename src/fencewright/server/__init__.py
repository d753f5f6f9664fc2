"""The web server: thin, on the store and the desk; it computes no trade rule of its own."""
