"""The page of a recommendation: its reasons, its numbers, its form, its parts."""
