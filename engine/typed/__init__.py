"""What people type: numbers, units, quantities, answers, and how each is read."""
