"""Pure plane geometry on arrays; it knows nothing of fences."""
