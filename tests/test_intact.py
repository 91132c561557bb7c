"""Files of models: each added up once, a changed or missing one told in words."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from assistant import intact
from assistant.intact import differing, in_words, kept_path, read_again, read_list


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(intact, "kept_path", lambda: tmp_path / "cache" / "checked-files.json")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = tmp_path / "model"
    folder.mkdir()
    for name in ("one.onnx", "two.onnx"):
        (folder / name).write_bytes(name.encode() * 1000)
    return folder


def sums(folder: Path) -> dict[str, str]:
    return {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.iterdir())
    }


def refuse(*_: object) -> None:
    raise AssertionError("added up again")


def test_files_as_they_were_are_right_and_added_up_once(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    wanted = sums(folder)
    assert differing(folder, wanted) == ()
    monkeypatch.setattr(hashlib, "file_digest", refuse)
    assert differing(folder, wanted) == ()
    read_again()
    with pytest.raises(AssertionError, match="added up again"):
        differing(folder, wanted)


def test_a_changed_byte_a_shorter_file_and_a_missing_one_are_told(folder: Path) -> None:
    wanted = sums(folder)
    assert differing(folder, wanted) == ()
    data = bytearray((folder / "one.onnx").read_bytes())
    data[500] ^= 1
    (folder / "one.onnx").write_bytes(data)
    (wrong,) = differing(folder, wanted)
    assert str(folder / "one.onnx") in wrong
    assert "is not the file that was tested" in wrong
    (folder / "two.onnx").write_bytes(b"")
    (folder / "one.onnx").unlink()
    wrong = ", ".join(differing(folder, wanted))
    assert f"one.onnx is missing in {folder}" in wrong
    assert "two.onnx is not the file" in wrong
    assert in_words(differing(folder, wanted)).endswith(", and 1 more")


def test_what_keeps_size_and_time_is_found_when_it_is_read_again(folder: Path) -> None:
    path = folder / "one.onnx"
    wanted, before = sums(folder), path.stat()
    assert differing(folder, wanted) == ()
    path.write_bytes(path.read_bytes()[::-1])
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert differing(folder, wanted) == (), "as the page of privacy says"
    read_again()
    assert len(differing(folder, wanted)) == 1


def test_a_file_that_was_wrong_and_is_right_again_is_taken(folder: Path) -> None:
    path, wanted = folder / "one.onnx", sums(folder)
    good = path.read_bytes()
    path.write_bytes(b"half")
    assert differing(folder, wanted)
    path.write_bytes(good)
    assert differing(folder, wanted) == ()


@pytest.mark.parametrize("kept", ["", "[]", '{"a": 1}', '{"a": ["x", 1, 2]}', "\ufffd"])
def test_a_broken_note_of_what_was_added_up_costs_time_alone(folder: Path, kept: str) -> None:
    intact.kept_path().parent.mkdir()
    intact.kept_path().write_text(kept, encoding="utf-8")
    assert differing(folder, sums(folder)) == ()


def test_where_nothing_can_be_kept_it_is_added_up_each_time(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "cache").write_text("a file in the place of the folder")
    assert differing(folder, sums(folder)) == ()
    (folder / "one.onnx").write_bytes(b"")
    assert len(differing(folder, {"one.onnx": "0" * 64})) == 1


def test_a_list_is_read_as_sha256sum_writes_it(tmp_path: Path) -> None:
    path = tmp_path / "SHA256SUMS"
    path.write_text(f"# a note\n{'a' * 64}  graph/a b.fst\n\n{'b' * 64}  c\n", encoding="utf-8")
    assert read_list(path) == {"graph/a b.fst": "a" * 64, "c": "b" * 64}


def test_it_is_kept_in_the_cache_of_the_user() -> None:
    assert kept_path().name == "checked-files.json"
    assert "wheelcall" in kept_path().parts
