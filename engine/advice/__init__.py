"""From needs to an answer: candidates, checks, ranking, parts, cautions, what would change it."""
