"""Second screens without a cable: the page in the browser of a phone or tablet, in the shop's own
network. Read-only, and only for those who were given a code.

Its server is a process of its own (`process.py` here, `child.py` there) that is told the pages
through a pipe. What it needs is the extra `show` of the package.
"""

from assistant.devices.viewers.addresses import PORT, Where, where_to_listen
from assistant.devices.viewers.process import MakeView, Viewers

__all__ = ["PORT", "MakeView", "Viewers", "Where", "where_to_listen"]
