"""scripts/fetch_models against a real web server on this machine."""

from __future__ import annotations

import hashlib
import io
import json
import random
import shutil
import socket
import subprocess
import sys
import threading
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

NAME = "vosk-model-small-xx-0.1"


def archive(top: str = NAME, file: str = "am/final.mdl") -> bytes:
    """A zip file of half a megabyte that doesn't get smaller, as a model is."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as packed:
        packed.writestr(f"{top}/{file}", random.Random(1).randbytes(500_000))
        packed.writestr(f"{top}/README", "a model")
    return buffer.getvalue()


MODEL = archive()


@dataclass
class Publisher:
    """What the server gives out, how it misbehaves, what it was asked."""

    files: dict[str, bytes] = field(default_factory=dict)
    cut_off_after: int | None = None
    takes_ranges: bool = True
    asked: list[tuple[str, str | None]] = field(default_factory=list)
    address: str = ""

    def publish(self, content: bytes, *, md5: str | None = None) -> None:
        """Give out `content` as the model, with a list that knows its checksum."""
        entry = {"name": NAME, "md5": md5 or hashlib.md5(content).hexdigest()}
        self.files = {
            f"/{NAME}.zip": content,
            "/model-list.json": json.dumps([entry]).encode(),
        }


@pytest.fixture
def publisher() -> Iterator[Publisher]:
    state = Publisher()

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            state.asked.append((self.path, self.headers["Range"]))
            content = state.files.get(self.path)
            if content is None:
                self.send_error(404)
                return
            start = 0
            if state.takes_ranges and (wanted := self.headers["Range"]):
                start = int(wanted.removeprefix("bytes=").removesuffix("-"))
                if start >= len(content):
                    self.send_error(416)
                    return
            self.send_response(206 if start else 200)
            self.send_header("Content-Length", str(len(content) - start))
            self.end_headers()
            end = len(content)
            if state.cut_off_after is not None and self.path.endswith(".zip"):
                end = start + state.cut_off_after
            self.wfile.write(content[start:end])

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    state.address = f"http://127.0.0.1:{server.server_port}"
    thread = threading.Thread(target=server.serve_forever, args=(0.05,))
    thread.start()
    yield state
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture
def checkout(tmp_path: Path, root: Path) -> Path:
    """A checkout of nothing but the script and the folder that it fills."""
    for name in ("scripts/fetch_models", "voice_models/README.md"):
        (tmp_path / name).parent.mkdir()
        shutil.copy(root / name, tmp_path / name)
    return tmp_path


def fetch(checkout: Path, address: str, *more: str) -> subprocess.CompletedProcess[str]:
    script = checkout / "scripts" / "fetch_models"
    return subprocess.run(
        [sys.executable, script, NAME, "--from", address, *more],
        capture_output=True,
        text=True,
        timeout=60,
    )


def left_over(checkout: Path) -> set[str]:
    return {path.name for path in (checkout / "voice_models").iterdir()} - {"README.md"}


def test_fetches_checks_and_unpacks(checkout: Path, publisher: Publisher) -> None:
    publisher.publish(MODEL)
    done = fetch(checkout, publisher.address)
    assert done.returncode == 0, done.stderr
    assert (checkout / "voice_models" / NAME / "am" / "final.mdl").stat().st_size == 500_000
    assert left_over(checkout) == {NAME}
    assert hashlib.sha256(MODEL).hexdigest() in done.stdout
    assert "0.5 of 0.5 MB" in done.stderr


def test_a_model_that_is_there_is_not_fetched(checkout: Path, publisher: Publisher) -> None:
    publisher.publish(MODEL)
    fetch(checkout, publisher.address)
    publisher.asked.clear()
    done = fetch(checkout, publisher.address)
    assert (done.returncode, publisher.asked) == (0, [])
    assert "there already" in done.stdout


@pytest.mark.parametrize("takes_ranges", [True, False])
def test_goes_on_where_it_broke_off(
    checkout: Path, publisher: Publisher, takes_ranges: bool
) -> None:
    publisher.publish(MODEL)
    publisher.cut_off_after = 200_000
    done = fetch(checkout, publisher.address)
    assert done.returncode == 1
    assert "broke off" in done.stderr
    assert left_over(checkout) == {f"{NAME}.zip.part"}

    publisher.cut_off_after = None
    publisher.takes_ranges = takes_ranges
    done = fetch(checkout, publisher.address)
    assert done.returncode == 0, done.stderr
    assert publisher.asked[-1] == (f"/{NAME}.zip", "bytes=200000-")
    assert left_over(checkout) == {NAME}


@pytest.mark.parametrize("who", ["list", "option", "page"])
def test_a_wrong_checksum_is_refused(checkout: Path, publisher: Publisher, who: str) -> None:
    publisher.publish(MODEL, md5="0" * 32 if who == "list" else None)
    if who == "page":
        page = checkout / "voice_models" / "README.md"
        page.write_text(f"| `{NAME}` | 1 MB | yes | `{'0' * 64}` |\n", encoding="utf-8")
    done = fetch(checkout, publisher.address, *(["--sha256", "0" * 64] if who == "option" else []))
    assert done.returncode == 1
    assert "removed" in done.stderr
    assert left_over(checkout) == set()


def test_a_right_sha256_is_enough(checkout: Path, publisher: Publisher) -> None:
    publisher.publish(MODEL)
    del publisher.files["/model-list.json"]
    done = fetch(checkout, publisher.address, "--sha256", hashlib.sha256(MODEL).hexdigest())
    assert done.returncode == 0, done.stderr


def test_nothing_is_fetched_without_a_checksum(checkout: Path, publisher: Publisher) -> None:
    publisher.publish(MODEL)
    del publisher.files["/model-list.json"]
    done = fetch(checkout, publisher.address)
    assert done.returncode == 1
    assert "--sha256" in done.stderr
    assert [path for path, _ in publisher.asked] == ["/model-list.json"]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (archive(top="../elsewhere"), "outside its folder"),
        (archive(file="readme.txt"), "holds no Vosk model"),
        (b"<html>not found</html>", "no zip file"),
    ],
)
def test_what_is_no_model_is_refused(
    checkout: Path, publisher: Publisher, content: bytes, words: str
) -> None:
    publisher.publish(content)
    done = fetch(checkout, publisher.address)
    assert done.returncode == 1
    assert words in done.stderr
    assert not (checkout / "voice_models" / NAME).exists()
    assert not (checkout / "elsewhere").exists()


def test_without_a_network_it_says_so(checkout: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))  # Bound and not listening: every call is refused.
        done = fetch(checkout, f"http://127.0.0.1:{taken.getsockname()[1]}")
    assert done.returncode == 1
    assert "can't be reached" in done.stderr
    assert "the built-in ear listens" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("arguments", [["../x"], [NAME, "--sha256", "abc"]])
def test_bad_arguments_are_refused(checkout: Path, arguments: list[str]) -> None:
    script = checkout / "scripts" / "fetch_models"
    done = subprocess.run([sys.executable, script, *arguments], capture_output=True, text=True)
    assert done.returncode == 2
    assert left_over(checkout) == set()
