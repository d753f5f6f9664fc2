"""The routes, a module for each part of the page."""
