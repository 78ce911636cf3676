"""Published tables as data, each with its source and edition."""
