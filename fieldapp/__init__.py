"""The touch interface, the store, the report and the command line around the trade in `checks`."""

__version__ = "0.1.0"
