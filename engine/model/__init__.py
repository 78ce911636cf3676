"""What the engine speaks of: frozen dataclasses, no behavior beyond look-up."""
