"""Takes the display away from the live program and gives it back; run inside
`scripts/virtual_sound`.

    python -m tests.app.live_display JOURNAL OUT

Prints `FOUND KEY: VALUE` lines, as `live_faults` does.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

from assistant.app.operator import read_script
from assistant.app.paths import configs_folder
from tests.app.live_faults import Program, say, tell
from tests.devices.displays import Display


def main(journal: str, folder: str) -> int:
    """The X server is killed in mid-job, and started again."""
    out = Path(folder)
    clip = read_script(configs_folder() / "demo" / "keyseat-inch.toml").clip("checked")
    os.environ.pop("SDL_VIDEODRIVER", None)
    with Display() as display:
        program = Program(journal, out, {"DISPLAY": display.name})
        try:
            tell("begun", program.wait_for("says"))
            time.sleep(6.0)
            program.forget()
            tell("window", float(display.has_a_window()))
            tell("display noticed", program.noticed(display.kill, "Screen: "))
            time.sleep(3.0)
            tell("heard without", say(program, clip))
            tell("alive", float(program.alive))
            program.forget()
            display.start()
            tell("display back", program.wait_for("Screen is back."))
            time.sleep(5.0)  # it says so, and doesn't listen meanwhile
            tell("window again", float(display.has_a_window()))
            tell("heard with", say(program, clip))
        finally:
            program.close()
            while program.wait_for("\0", 0.3) >= 0:
                pass
            print("\n".join(program.printed[-60:]), flush=True)
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1], sys.argv[2]))
    except subprocess.SubprocessError as error:
        sys.exit(str(error))
