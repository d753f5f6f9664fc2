"""Whether posts, holes and braces carry the fence, and the smallest that do."""
