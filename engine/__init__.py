"""How an answer is computed: pure Python, no input or output of its own."""

__version__ = "1.0.0"
