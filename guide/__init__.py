"""What the shop says: the authored content and the tools to author it."""
