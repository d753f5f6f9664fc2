"""Where each post stands, and where each rail ends."""
