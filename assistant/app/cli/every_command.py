"""The program with all its commands, in the order of its help."""

from assistant.app.cli import commands, device_commands
from assistant.app.cli.program import app

__all__ = ["app", "commands", "device_commands"]
