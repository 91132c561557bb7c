"""Where the files that come with the program are: `configs` and `voice_models`.

In a clone they stand at the top of the repository, beside the package. The build maps them into
the package (`scripts/releasing/building.py`), so that an installed copy has them inside.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

PACKAGE = "assistant"


def shipped(name: str) -> Path:
    """The folder or file of that name that came with the program; need not exist.

    A real path, since native libraries read some of them: the package is never run from a zip file.
    """
    package = Path(str(files(PACKAGE)))
    inside = package / name
    # Inside first: beside an installed package lie other packages, which may have such a name.
    return inside if inside.exists() else package.parent / name
