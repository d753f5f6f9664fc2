"""Textbook formulas, a file per subject; they know nothing of fences."""
