"""The species files and the bibliography, read and checked, the user's own over ours; their settings."""

from bench.library.places import shipped_folder, user_data_folder
from bench.library.species import BIBLIOGRAPHY, Library, load
from bench.library.user_settings import FILE as SETTINGS_FILE
from bench.library.user_settings import UserSettings, keep_setting, load_settings

__all__ = [
    "BIBLIOGRAPHY",
    "SETTINGS_FILE",
    "Library",
    "UserSettings",
    "keep_setting",
    "load",
    "load_settings",
    "shipped_folder",
    "user_data_folder",
]
