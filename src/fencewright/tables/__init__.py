"""Frozen column tables that the stages hand on: one row a post, a span, a run, a pull, a brace, a hole."""
