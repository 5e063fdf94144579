"""The keys that work everywhere."""

from textual.binding import Binding, BindingType

EVERYWHERE: list[BindingType] = [
    Binding("f", "pane('float')", "Float", id="go.float", tooltip="Float: read a stick"),
    Binding("s", "pane('section')", "Section", id="go.section", tooltip="Section: another wood, which size"),
    Binding("c", "pane('cuts')", "Cuts", id="go.cuts", tooltip="Cuts: which part from which stick"),
    Binding(
        "i",
        "view('inspect')",
        "Inspect",
        id="go.inspect",
        tooltip="Inspect: rings, grain, defects; per use",
    ),
    Binding(
        "e",
        "view('evidence')",
        "Evidence",
        id="go.evidence",
        tooltip="Evidence: what the reading in hand rests on",
    ),
    Binding("m", "view('moisture')", "Moisture", id="go.moisture", tooltip="Moisture: oven, air, movement"),
    Binding("t", "view('stock')", "Stock", id="go.stock", tooltip="Stock: the sticks of the rack"),
    Binding("p", "view('parts')", "Parts", id="go.parts", tooltip="Parts: the drawing's list"),
    Binding("b", "view('breaks')", "Breaks", id="go.breaks", tooltip="Breaks: coupons, and what broke them"),
    Binding("l", "view('species')", "Species", id="go.species", tooltip="Species: figures and sources"),
    Binding("h", "view('woods')", "Woods", id="go.woods", tooltip="Woods: all compared for the section"),
    Binding("o", "view('shop')", "Shop", id="go.shop", tooltip="Shop: kerf, trims, size step, units"),
    Binding("r", "view('record')", "Record", id="go.record", tooltip="Record: everything accepted"),
    Binding(
        "comma",
        "trace",
        "Trace",
        id="go.trace",
        key_display=",",
        tooltip="Trace: from a part to its wood, from a stick to its parts",
    ),
    Binding("w", "view('working')", "Working", id="go.working", tooltip="Working: formula, numbers, sources"),
    Binding("z", "large", "Large", id="go.large", tooltip="Large figures, for two metres away"),
    Binding("u", "undo", "Undo", id="job.undo", tooltip="Undo the last accepted change"),
    Binding("y", "redo", "Redo", id="job.redo", tooltip="Make the undone change again"),
    Binding("question_mark", "view('help')", "Help", id="go.help", tooltip="Help for this screen; every key"),
    Binding("f1", "view('help')", "Help", id="go.help-too", tooltip="The same", show=False),
    Binding(
        "semicolon", "view('actions')", "Actions", id="go.actions", tooltip="Find an action by a few letters"
    ),
    Binding("f2", "view('actions')", "Actions", id="go.actions-too", tooltip="The same", show=False),
    Binding("f3", "walk", "Walk", id="go.walk", tooltip="A first reading on an invented stick", show=False),
    Binding("escape", "back", "Back", id="go.back", tooltip="Drop what is tried, or go back to the bench"),
    Binding("q", "leave", "Leave", id="job.leave", tooltip="Leave; everything accepted is saved"),
    Binding("ctrl+q", "leave", "Leave", id="job.leave-too", tooltip="Leave", show=False, priority=True),
]
