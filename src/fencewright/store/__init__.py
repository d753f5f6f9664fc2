"""The only code that writes files."""
