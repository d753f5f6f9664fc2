"""How tight: the pull of every rail on every day, from which post, with how many turns, and how to prove it."""
