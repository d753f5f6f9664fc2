"""A job to its design, one stage at a time."""
