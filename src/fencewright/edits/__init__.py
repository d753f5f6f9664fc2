"""Edits of a job's text: each a small named request in, the whole text out, comments kept."""
