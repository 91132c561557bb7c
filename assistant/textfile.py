"""Configuration files as text and as TOML: what is wrong in one is named by line, key and value.

A file may come from any editor: one that marks UTF-8 at its beginning is read like any other,
one in another encoding is refused with what to do about it.
"""

from __future__ import annotations

import codecs
import re
import tomllib
import unicodedata
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

from assistant.errors import BadFile

LONGEST_LINE = 120
"""Letters of a title or a note; what is longer is cut, and ends in dots."""
LONGEST_VALUE = 60
"""Letters of a value that are shown in an error."""
LARGEST_FILE = 1_000_000
"""Bytes; no job, machine or settings file is a hundredth of it."""

_UTF_16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
_PLACE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")
_KEY = re.compile(r"""^\s*([\w.'"-]+)\s*=\s*(.*?)\s*$""")
_CURLY = "\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}"
_CURLY += "\N{DOUBLE LOW-9 QUOTATION MARK}\N{LEFT SINGLE QUOTATION MARK}"
_CURLY += "\N{RIGHT SINGLE QUOTATION MARK}"


def read_file(path: Path) -> str:
    """The text of a configuration file; `BadFile` where it can't be read."""
    want = "wanted a readable TOML file"
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        raise BadFile(path, "file", "missing", want) from None
    except (OSError, ValueError) as error:  # a name with a NUL in it is a ValueError
        why = getattr(error, "strerror", None) or error
        raise BadFile(path, "file", "not readable", f"{want} ({why})") from None
    if len(raw) > LARGEST_FILE:
        raise BadFile(path, "file", f"{len(raw)} bytes long", "wanted at most a million")
    if raw.startswith(_UTF_16) or b"\0" in raw[:4]:
        want = 'save it as "UTF-8" in the editor (Save as, Encoding)'
        raise BadFile(path, "encoding", "UTF-16", want)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        want = f"line {line} has a character that isn't: save it as UTF-8 in the editor"
        raise BadFile(path, "encoding", "not UTF-8", want) from None


def read_toml(text: str, path: Path | str) -> dict[str, Any]:
    """Parse TOML with exact decimals; `BadFile` names line, key, value and what is wrong."""
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise _unreadable(text, path, str(error)) from None
    except (ValueError, RecursionError) as error:  # a date that isn't, tables a thousand deep
        raise BadFile(path, "TOML", "not readable", str(error)) from None


def _unreadable(text: str, path: Path | str, message: str) -> BadFile:
    """The error of a line that is no TOML, in words for whoever typed it."""
    lines = text.split("\n")
    place = _PLACE.search(message)
    number = int(place[1]) if place and place[1] else len(lines)
    reason = _PLACE.sub("", message)
    line = lines[number - 1].strip("\r") if number <= len(lines) else ""
    pair = _KEY.match(line)
    if pair is None:
        value = as_written(line.strip()) if line.strip() else "not readable"
        return BadFile(path, f"line {number}", value, _line_wants(line, reason))
    key, value = pair.groups()
    want = _value_wants(key, value, reason)
    return BadFile(path, f"line {number}, {key}", visible(value, LONGEST_VALUE), want)


def _line_wants(line: str, reason: str) -> str:
    if line.strip().startswith("["):
        return f"wanted a table such as [key] alone on its line ({reason})"
    return f'wanted key = value, such as unit = "inch" ({reason})'


def _value_wants(key: str, value: str, reason: str) -> str:
    """What is most likely wrong with the value of a line that can't be read."""
    bare = value.split("#")[0].strip()
    if any(mark in value for mark in _CURLY):
        return f'curly quotes: write plain ones, as {key} = "..."'
    if value.count('"') % 2:
        missing = "at its end" if value.startswith('"') else "before it"
        return f'a quote is missing {missing}: {key} = "{bare.strip(chr(34))}"'
    if re.fullmatch(r"[-+]?\d*,\d+", bare):
        return f"wanted a decimal point, not a comma: {key} = {bare.replace(',', '.')}"
    if "overwrite" in reason or "twice" in reason or "duplicate" in reason.lower():
        return "the key is given twice: leave one"
    if bare and bare[0] not in "\"'[{" and bare not in ("true", "false"):
        if bare.lower() in ("true", "false"):
            return f"wanted {key} = {bare.lower()}"
        return f'text, and a size with its unit, stands in quotes: {key} = "{bare}"'
    return f"not readable: {reason}"


def visible(text: str, most: int = LONGEST_LINE) -> str:
    """`text` on one line and harmless where it is shown: what a terminal, a screen or paper would
    act on or hide (escapes, ends of lines, marks that turn the writing round) stands there as its
    escape; cut to `most` letters."""
    cut = text if len(text) <= most else text[: most - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"
    return "".join(map(_harmless, cut))


def _harmless(letter: str) -> str:
    if letter.isprintable():
        return letter
    if unicodedata.category(letter) == "Zs":  # another kind of space
        return " "
    return letter.encode("unicode_escape").decode("ascii")


def as_written(value: object) -> str:
    """A value of a file as it may be written there: `18.5`, `true`, `'closed'`, `[1, 2]`."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"'{visible(value, LONGEST_VALUE)}'"
    if isinstance(value, Mapping):
        return "a table" if value else "{}"
    if isinstance(value, list | tuple):
        whole = ", ".join(as_written(one) for one in value[:8])
        return f"[{whole}{', ...' if len(value) > 8 else ''}]"
    return visible(str(value), LONGEST_VALUE)
