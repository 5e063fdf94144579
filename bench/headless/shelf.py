"""The library as the verbs take it: the shipped species with the user's own over them."""

from pathlib import Path

from bench.core.errors import FileFault, UnknownName
from bench.core.records import Species
from bench.headless.arguments import SPECIES_WANTED, Given, Option
from bench.library import BIBLIOGRAPHY, Library, load, user_data_folder


def species_option(name: str, help: str, needed: bool = True) -> Option:
    """An option that names a species by its key."""
    return Option(name, "name", help, needed=needed, wanted=SPECIES_WANTED)


def shelf() -> Library:
    """Every species known here; faulty files of the user are listed in it."""
    return load(user_data_folder() / "species")


def pick(library: Library, given: Given, name: str) -> Species:
    """The species an option names.

    Raises:
        FileFault: the user's own file of that name is faulty and there is no shipped one.
        Refusal: not known; says the nearest keys.
    """
    key = given.text(name)
    with given.naming({"species": name}):
        try:
            return library.get(key)
        except UnknownName:
            for fault in library.faults:
                if Path(fault.path).stem == key:
                    raise _cause(library, fault) from None
            raise


def _cause(library: Library, fault: FileFault) -> FileFault:
    """Of a source that is not known the fault in the bibliography beside it, if that has one."""
    beside = Path(fault.path).with_name(BIBLIOGRAPHY)
    of_source = fault.key == "source"
    return next((one for one in library.faults if of_source and Path(one.path) == beside), fault)


def faults(library: Library) -> tuple[str, ...]:
    """A warning for each fault in the user's files."""
    return tuple(f"left out: {fault}" for fault in library.faults)
