"""One step a module, named for the schema that it makes."""
