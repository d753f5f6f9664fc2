"""Catalogue rows and trade defaults: shipped data, and what a user's data sheet adds."""
