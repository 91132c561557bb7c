"""The command line behind `scripts/record_demo`."""

from __future__ import annotations

import csv
import sys
import time
from pathlib import Path
from typing import Annotated

import typer

from assistant.errors import BadFile
from recording.clips import clip_path, is_made, record
from recording.errors import VoiceMissing
from recording.lists import PhraseList
from recording.voices import VOICES

ROOT = Path(__file__).resolve().parents[2]

app = typer.Typer(add_completion=False, rich_markup_mode=None)


def main(
    lists: Annotated[
        list[Path] | None, typer.Argument(help="Phrase lists; all of configs/demo if none.")
    ] = None,
    out: Annotated[Path, typer.Option(help="Where the clips go.")] = ROOT / "assistant" / "demo",
    voice: Annotated[
        list[str] | None,
        typer.Option(
            help="Say each list in these voices ('all' for every one) into OUT/VOICE with a"
            " manifest.csv, in place of the list's own voice into OUT/LIST."
        ),
    ] = None,
    again: Annotated[bool, typer.Option(help="Also make the clips that are there.")] = False,
    prune: Annotated[bool, typer.Option(help="Remove clips that no list names.")] = False,
    voices: Annotated[bool, typer.Option(help="Name the voices and stop.")] = False,
) -> None:
    """Record phrases from open synthetic voices as 16 kHz FLAC files.

    Clips of the same voice, pace and seed are kept, so that only new phrases cost time. The
    same list, seed and package versions give the same samples on the same kind of processor.
    """
    if voices:
        for known in VOICES.values():
            print(f"{known.name:14} {known.speaker}; {known.package}; {known.licence}")
        return
    wanted = list(VOICES) if voice == ["all"] else (voice or [])
    try:
        unknown = [name for name in wanted if name not in VOICES]
        if unknown:
            known_names = ", ".join(VOICES)
            raise SystemExit(f"--voice is {unknown[0]}: must be one of {known_names}")
        paths = lists or sorted((ROOT / "configs" / "demo").glob("*.toml"))
        said = [
            (name, phrases)
            for phrases in map(PhraseList.read, paths)
            for name in wanted or [phrases.voice]
        ]
        for name, phrases in said:
            folder = out / (name if wanted else phrases.name)
            _record_list(phrases, name, folder, again=again, prune=prune)
        if wanted:
            _write_manifest(out, said)
    except (BadFile, VoiceMissing) as error:
        raise SystemExit(str(error)) from None
    except KeyboardInterrupt:
        print("stopped; the clips made so far are kept", file=sys.stderr)
        raise SystemExit(130) from None


def _record_list(
    phrases: PhraseList, voice: str, folder: Path, *, again: bool, prune: bool
) -> None:
    paths = {phrase: clip_path(folder, phrase) for phrase in phrases.phrases}
    speaker, pace, seed = VOICES[voice], phrases.pace, phrases.seed
    missing = [
        phrase
        for phrase, path in paths.items()
        if again or not is_made(speaker, path, pace=pace, seed=seed)
    ]
    started, spoken = time.monotonic(), 0.0
    for phrase in missing:
        try:
            spoken += record(speaker, phrase, paths[phrase], pace=pace, seed=seed)
        except ValueError as error:
            raise SystemExit(f"{folder.name}: {error}") from None
    took = time.monotonic() - started
    kept = len(paths) - len(missing)
    line = f"{folder}: {len(missing)} made in {took:.1f} s by {voice}, {kept} kept"
    strays = sorted(set(folder.glob("*.flac")) - set(paths.values()))
    if strays and prune:
        for stray in strays:
            stray.unlink()
        line += f", {len(strays)} removed"
    elif strays:
        line += f", {len(strays)} that the list doesn't name (--prune removes them)"
    if missing:
        line += f"; {spoken:.0f} s of speech"
    print(line)


def _write_manifest(out: Path, said: list[tuple[str, PhraseList]]) -> None:
    """`OUT/manifest.csv`: file, speaker, text, split, source, of every clip of these lists."""
    with (out / "manifest.csv").open("w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(["file", "speaker", "text", "split", "source"])
        for name, phrases in said:
            for phrase in phrases.phrases:
                clip = clip_path(Path(name), phrase)
                rows.writerow([clip, name, phrase, "synthetic", VOICES[name].package])


app.command()(main)

if __name__ == "__main__":
    app(prog_name="record_demo")
