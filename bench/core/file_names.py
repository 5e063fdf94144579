"""File names out of what people call things: they stay in their folder, on any system."""

import unicodedata

# Room for "-2", an ending and the endings of side files within the 255 bytes of a file name.
LONGEST_BYTES = 120
# Names that one family of systems keeps for its devices, whatever the ending.
_DEVICES = {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(10)}


def file_stem(name: str, otherwise: str = "job") -> str:
    """A name as the first part of a file's: letters, marks and digits of any script, the rest as dashes.

    Args:
        name: of a job, a stick or anything else, whatever is in it.
        otherwise: what it is where nothing of the name is left; what is put behind the name of a device.
    Returns:
        Never empty, never a path, never the name of a device, at most 120 bytes in UTF-8.
    """
    kept = (
        char if unicodedata.category(char)[0] in "LMN" else " " for char in unicodedata.normalize("NFC", name)
    )
    stem = "-".join("".join(kept).split())
    stem = stem.encode()[:LONGEST_BYTES].decode(errors="ignore")
    if not stem:
        return otherwise
    return f"{stem}-{otherwise}" if stem.casefold() in _DEVICES else stem
