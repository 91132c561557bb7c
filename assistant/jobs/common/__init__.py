"""What every job has in common: its checks, its spindle, what was told, what still holds."""
