"""What the engine speaks of: frozen dataclasses, no behaviour beyond look-up."""
