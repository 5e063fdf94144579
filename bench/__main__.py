"""The command `tenthmark`: the app, or one verb of the headless face."""

import gc
import io
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from bench import __version__
from bench.core.errors import BadInput, Refusal
from bench.headless.verbs import VERBS, run

CANNOT_WRITE, REFUSED, OWN_FAULT, INTERRUPTED, BROKEN_PIPE = 1, 2, 70, 130, 141


def main(argv: list[str] | None = None) -> int:
    """Run the command.

    Args:
        argv: the words after the command's name; None for those of this process.
    Returns:
        Exit status: 0; 2 for what was refused; 1 where nothing can be written; 130 or 141 when stopped; 70
        for a fault of our own, whose traceback `python -X dev -m bench` shows.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal that cannot show a letter shows a question mark
    try:
        status = _answer(sys.argv[1:] if argv is None else argv)
        sys.stdout.flush()
        return status
    except Refusal as refusal:
        return _say(str(refusal), REFUSED)
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else 0
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        _drop_output()
        return BROKEN_PIPE
    except OSError as fault:
        _drop_output()
        return _say(f"{fault.filename or 'output'}: {fault.strerror or fault}", CANNOT_WRITE)
    except Exception as fault:
        if sys.flags.dev_mode:
            raise
        return _say(f"a fault of the program, not of your input: {type(fault).__name__}: {fault}", OWN_FAULT)


def _answer(words: Sequence[str]) -> int:
    first = words[0] if words else ""
    if first in VERBS:
        return run(first, words[1:])
    if first == "keys" and len(words) == 1:
        from bench import launch

        return launch.run_keys()
    if first in ("-h", "--help"):
        print(_help())
        return 0
    if first == "--version":
        print(f"tenthmark {__version__}")
        return 0
    return _open_app(words)


def _open_app(words: Sequence[str]) -> int:
    first = words[0] if words else ""
    if first.startswith("-"):
        raise BadInput("option", first, "is not known", f"--help, --version, {_verbs()} or the file of a job")
    if len(words) > 1 and first != "demo" and _looks_like_a_verb(first):
        raise BadInput("command", first, "is no verb of this version", f"{_verbs()} or the file of a job")
    if len(words) > 1:
        wanted = "one file, or one verb with its options"
        raise BadInput("command", words[1], f"is not expected after {first!r}", wanted)
    path = Path(first) if first else None
    if path is not None and first != "demo" and _looks_like_a_verb(first):
        raise BadInput("command", first, "is no file and no verb", f"{_verbs()} or the file of a job")
    gc.disable()  # what a start makes is there to stay; `ui.settling` puts it on again
    # Imported here: the verbs never load the screen.
    from bench import launch

    return launch.run_demo() if first == "demo" else launch.run(path)


def _looks_like_a_verb(word: str) -> bool:
    """A bare word that is no file: a new job has a folder or an ending in its name."""
    path = Path(word)
    try:
        return not path.exists() and not path.suffix and path.name == word
    except OSError:  # a name no file can have
        return True


def _verbs() -> str:
    return ", ".join((*VERBS, "keys", "demo"))


def _help() -> str:
    width = max(len(verb) for verb in VERBS) + 2
    lines = [
        "usage: tenthmark [FILE]              open the last job, or the job in FILE",
        "       tenthmark demo                open an invented job in a scratch copy",
        "       tenthmark keys                every key, and how to change it",
        "       tenthmark VERB [options]      answer without a screen; VERB --help tells its options",
        "",
        *(f"  {verb:{width}}{summary}" for verb, (_, summary) in VERBS.items()),
        "",
        "  --version    print the version",
    ]
    return "\n".join(lines)


def _say(message: str, status: int) -> int:
    from bench.core.naming import one_line

    print(f"tenthmark: {one_line(message)}", file=sys.stderr)
    return status


def _drop_output() -> None:
    """Send what is still buffered nowhere, so that the interpreter does not fail on it when it ends."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        return


if __name__ == "__main__":
    sys.exit(main())
