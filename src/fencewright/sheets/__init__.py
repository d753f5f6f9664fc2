"""Drawings of a design: pictures in paper metres, and their writers."""
