"""Turn one checked trip file into a printable kneeboard brief."""

__version__ = "0.1.0"
