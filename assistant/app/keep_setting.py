"""Changing a line of the operator's settings file, and nothing else in it."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

from assistant.app.paths import configs_folder, user_configs
from assistant.app.settings import load_settings
from assistant.errors import BadFile


def own_settings_path() -> Path:
    """The operator's own file, whether it is there or not."""
    return user_configs() / "settings.toml"


def keep_setting(key: str, value: str | None, path: Path | None = None) -> Path:
    """Write `key = "value"`, or take the key out where `value` is None; the file's path.

    A file that isn't there yet begins as a copy of the project's. Comments stay. Raises `BadFile`
    where the file is broken already: it is left as it is then.
    """
    path = path or own_settings_path()
    source = path if path.is_file() else configs_folder() / "settings.toml"
    text = source.read_text(encoding="utf-8") if source.is_file() else ""
    if path.is_file():
        load_settings(path)  # a broken file isn't made worse
    changed = _changed(text, key, value)
    path.parent.mkdir(parents=True, exist_ok=True)
    new = path.with_name(f"{path.name}.new")
    new.write_text(changed, encoding="utf-8")
    try:
        load_settings(new)
    except BadFile:
        new.unlink()
        raise
    os.replace(new, path)
    return path


def _changed(text: str, key: str, value: str | None) -> str:
    line = re.compile(rf'^(#\s*)?{re.escape(key)}\s*=\s*("[^"\n]*"|[^#\n]*?)(\s*#[^\n]*)?$', re.M)
    places = list(line.finditer(text))
    # the line in force, else the one that is commented out, as an example
    place = next((one for one in places if not one[1]), places[0] if places else None)
    if value is None:
        if place is None or place[1]:
            return text
        return text[: place.start()] + "# " + text[place.start() :]
    # a JSON string is a TOML string
    written = f"{key} = {json.dumps(value, ensure_ascii=False)}"
    if place is None:
        return text.rstrip("\n") + f"\n{written}\n" if text else f"{written}\n"
    return text[: place.start()] + written + (place[3] or "") + text[place.end() :]
