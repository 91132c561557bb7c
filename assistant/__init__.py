"""Wheelcall: the hands-free assistant for manual mills, lathes and drill presses."""

__version__ = "0.1.0"
