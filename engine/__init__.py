"""How an answer is computed: pure Python, no input or output of its own."""

__version__ = "0.1.0"
