"""What is said, and how the language that is spoken writes it; the words are content."""
