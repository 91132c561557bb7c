"""The speech engines, for a process of their own: the clear voice, and the system's."""
