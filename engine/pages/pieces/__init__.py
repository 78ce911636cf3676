"""Live pieces of the explanatory pages."""
