"""Pages of the shop's own people: staff entry, message, show mode, all answers, the tree."""
