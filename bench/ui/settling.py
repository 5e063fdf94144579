"""The collector of garbage: off while the program starts, and then spared what is there to stay."""

import gc


def settle() -> None:
    """Once what was to be made is made: it is never garbage, and scanning it costs tens of milliseconds."""
    gc.enable()
    gc.collect()
    gc.freeze()


def unwatched() -> None:
    """While much is made that is there to stay: a large rack is scanned again and again for nothing."""
    gc.disable()


def spare() -> None:
    """What there is now stays: it goes when nothing refers to it any more, and is not scanned before."""
    gc.freeze()
    gc.enable()
