"""The job: what is asked, as a typed record read from TOML."""
