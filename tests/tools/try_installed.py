"""Try an installed `tenthmark` from outside its source tree: the verbs with their data, and the screen.

Run with the path of the command. Needs a Unix pseudo-terminal.
"""

import json
import os
import pty
import select
import struct
import subprocess
import sys
import tempfile
import time


def answer(command: str, *words: str) -> dict[str, object]:
    """What a verb prints as JSON."""
    done = subprocess.run([command, *words, "--json"], capture_output=True, text=True, check=True)
    told: dict[str, object] = json.loads(done.stdout)
    return told


def screen(command: str, home: str) -> bytes:
    """Start the demo in a terminal of 80 x 24, leave with q when its name is shown; all it wrote."""
    import fcntl
    import termios

    child, terminal = pty.fork()
    if child == 0:
        os.environ.update(TERM="xterm-256color", TENTHMARK_HOME=home)
        os.execv(command, [command, "demo"])
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    written, asked, end = b"", False, time.monotonic() + 60
    while time.monotonic() < end:
        if select.select([terminal], [], [], 0.1)[0]:
            try:
                read = os.read(terminal, 65536)
            except OSError:
                break
            if not read:
                break
            written += read
        if b"INVENTED" in written and b"Leave" in written and not asked:
            asked = True
            os.write(terminal, b"q")
    _, status = os.waitpid(child, 0)
    if os.waitstatus_to_exitcode(status) != 0 or not asked:
        raise SystemExit(f"the screen failed:\n{written.decode(errors='replace')}")
    return written


def main() -> None:
    """Try everything; a failure ends with a message."""
    command = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory() as home:
        os.environ["TENTHMARK_HOME"] = home
        listed = answer(command, "species")
        assert len(listed["species"]) == 23, listed  # type: ignore[arg-type]
        told = answer(
            command, "float", "--species", "sitka_spruce", "--side", "1/2", "--mark", "4.4",
            "--moisture", "10", "--angle", "none", "--water", "20C",
        )  # fmt: skip
        # Wood Handbook (FPL-GTR-282) eq. 4-9 and 4-10, worked by a general calculator.
        assert abs(float(told["sg_oven_dry"]) - 0.4166) < 0.0005, told  # type: ignore[arg-type]
        screen(command, home)
    print("installed copy: 23 species, float chain, screen opened and left")


if __name__ == "__main__":
    main()
