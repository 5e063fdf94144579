"""The looks of the screen: dark, light, and high contrast.

A look is seven colours by what they are for; the texts of the panes name those (`bold $note`). Dark and light
use only the eight plain colours of a console, so that they look the same on a kernel console and a terminal;
high contrast also asks for the bright ones, where the terminal has them. Nothing is told by colour alone.
"""

from textual.theme import Theme

# What a colour is for: ink on paper, labels, headings, what is tried or must be minded, verdicts.
_PARTS = ("paper", "ink", "quiet", "head", "note", "good", "bad")
_LOOKS = {
    "dark": ("ansi_black", "ansi_white", "ansi_cyan", "ansi_cyan", "ansi_yellow", "ansi_green", "ansi_red"),
    # Green, yellow and magenta are hard to read on the grey that a console shows for white.
    "light": ("ansi_white", "ansi_black", "ansi_blue", "ansi_blue", "ansi_red", "ansi_black", "ansi_red"),
    "contrast": (
        "ansi_black",
        "ansi_bright_white",
        "ansi_bright_white",
        "ansi_bright_white",
        "ansi_bright_yellow",
        "ansi_bright_green",
        "ansi_bright_red",
    ),
}
LOOKS = tuple(_LOOKS)


def _theme(name: str, colours: tuple[str, ...]) -> Theme:
    part = dict(zip(_PARTS, colours, strict=True))
    ink, paper = part["ink"], part["paper"]
    return Theme(
        name=name,
        ansi=True,
        dark=paper == "ansi_black",
        primary=part["quiet"],
        secondary=part["quiet"],
        accent=part["note"],
        warning=part["note"],
        error=part["bad"],
        success=part["good"],
        foreground=ink,
        background=paper,
        surface=paper,
        panel=paper,
        boost=paper,
        variables={
            **part,
            "ansi-background": paper,
            "ansi-foreground": ink,
            "block-cursor-foreground": paper,
            "block-cursor-background": part["quiet"],
            "block-cursor-text-style": "none",
            "input-cursor-background": ink,
            "input-cursor-foreground": paper,
            "input-cursor-text-style": "none",
            "border-blurred": ink,
        },
    )


THEMES = {name: _theme(name, colours) for name, colours in _LOOKS.items()}
DEFAULTS = dict(zip(_PARTS, _LOOKS["dark"], strict=True))
