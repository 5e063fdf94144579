"""The species files and the bibliography, read and checked; the user's own species over ours."""

from bench.library.places import shipped_folder, user_data_folder
from bench.library.species import Library, load

__all__ = ["Library", "load", "shipped_folder", "user_data_folder"]
