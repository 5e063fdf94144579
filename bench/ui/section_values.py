"""The values of the Section pane: how each is shown, stepped and typed. A choice in, a choice out."""

from collections.abc import Mapping
from fractions import Fraction

from bench.core.errors import BadInput, Missing
from bench.core.frozen import replace
from bench.core.records import Layer, SectionChoice, Species, Typed, with_field
from bench.core.resizing import CAPACITIES, GRAVITIES, HOLDS, MATCHES
from bench.core.sections import SHAPES, WALLED
from bench.sheets import sections
from bench.ui.fieldpane import Field
from bench.ui.naming import read_as, read_percent, species_key
from bench.ui.stepping import SIDE_STEP, next_step, turned

FIELDS = {"free": "free_length"}  # a value of the pane -> its field, where the names differ
COLUMN_STEP = {"in": Fraction(254, 10_000), "mm": Fraction(1, 100)}  # [m]
LENGTHS = {
    "width": "of the plan section, 3/4 or 19 mm",
    "depth": "of the plan section, 3/4 or 19 mm",
    "flange": "thickness of one flange, 3/4",
    "web": "thickness of one web, 1/8",
    "held_at": "the held side as measured on the new piece, .740; 0: as drawn",
}
LABELS = {"held_at": "as sawn", "free": "column"}
WOOD = "species by key or name, as in Species: sitka_spruce, white ash"
LAYERS = "from the outer face on: 1/8 white ash, 1/2 sitka spruce, 1/8 white ash"


def fields(choice: SectionChoice, woods: Mapping[str, Species]) -> tuple[Field, ...]:
    """The values in order; those that mean nothing for this choice are left out."""
    own = f"stick {choice.stick or 'in hand'}"
    figures = {
        "handbook": "handbook average",
        "stick": f"gravity of {own}",
        "estimate": f"estimate from {own}",
        "aircraft": "aircraft design",
        "coupons": f"coupons of {choice.coupons or '-- choose in Groups'}",
    }
    walls = (
        Field(name, name, _text(getattr(choice, name)), LENGTHS[name])
        for name in (("flange", "web") if choice.shape in WALLED else ())
    )
    layers = (Field("layers", "layers", _layers(choice) or "-- type them", LAYERS),)
    matter = ", ".join(choice.own) or "-- type them"
    own_set = (Field("own", "that matter", matter, f"of {', '.join(CAPACITIES)}"),)
    held = (Field("held_at", "as sawn", _text(choice.held_at, "as drawn"), LENGTHS["held_at"]),)
    slot = f"{choice.cap_side} {_text(choice.cap)}" if choice.cap_side else "none"
    free = choice.free_length
    return (
        Field("plan", "drawing", _named(choice.plan, woods), WOOD),
        Field("use", "new wood", *_new_wood(choice, woods)),
        Field("match", "match", sections.CAPACITY[choice.match]),
        *(own_set if choice.match == "own" else ()),
        Field("width", "width", choice.width.text, LENGTHS["width"]),
        Field("depth", "depth", choice.depth.text, LENGTHS["depth"]),
        Field("shape", "shape", sections.SHAPE[choice.shape]),
        *walls,
        *(layers if choice.shape == "laminated" else ()),
        Field("hold", "hold", choice.hold or "neither side"),
        *(held if choice.hold else ()),
        Field("slot", "slot", slot, "the side that must fit and the most it may be: depth 3/4; 0: none"),
        Field("gravity", "figures", figures[choice.gravity]),
        Field("moisture", "moisture", _moisture(choice), "of both woods, percent; empty for 12"),
        Field("free", "column", free.text if free else "Euler load", "free length, 24 in; 0 for Euler"),
    )


def _text(typed: Typed | None, otherwise: str = "-- type it") -> str:
    return typed.text if typed else otherwise


def _moisture(choice: SectionChoice) -> str:
    if choice.gravity == "aircraft":
        return "15 %, of the design values"
    return choice.moisture.text if choice.moisture else "12 %"


def _named(key: str, woods: Mapping[str, Species]) -> str:
    return woods[key].name if key in woods else key


def _new_wood(choice: SectionChoice, woods: Mapping[str, Species]) -> tuple[str, str]:
    """What the new wood is and what may be typed for it; of layers each has its own."""
    if choice.shape != "laminated":
        return _named(choice.use, woods), WOOD
    return " + ".join(_named(layer.species, woods) for layer in choice.layers) or "of the layers", ""


def _layers(choice: SectionChoice) -> str:
    return ", ".join(f"{layer.thickness.text} {layer.species}" for layer in choice.layers)


def stepped(
    choice: SectionChoice, name: str, amount: int, woods: Mapping[str, Species], system: str, tag: str
) -> SectionChoice:
    """A choice with one value some steps further; `tag` is the stick in hand."""
    sign = 1 if amount > 0 else -1
    if name == "use" and choice.shape == "laminated":
        raise Missing("new wood", "each layer has its own: type the layers")
    if name in ("plan", "use"):
        keys = list(woods)
        now = getattr(choice, name)
        place = keys.index(now) if now in keys else 0
        return with_field(choice, name, keys[(place + sign) % len(keys)])
    if name in LENGTHS:
        side: Typed | None = getattr(choice, name)
        if side is None:
            raise Missing(LABELS.get(name, name), "type it; no step makes it up")
        step = SIDE_STEP[system]
        return with_field(choice, name, next_step(side.exact, amount, step, step, system))
    if name == "match":
        return replace(choice, match=turned(MATCHES, choice.match, sign))
    if name == "hold":
        hold = turned(HOLDS, choice.hold, sign)
        return replace(choice, hold=hold, held_at=None)
    if name == "shape":
        return replace(choice, shape=turned(tuple(SHAPES), choice.shape, sign))
    if name == "gravity":
        gravity = turned(GRAVITIES, choice.gravity, sign)
        of_stick = gravity in ("stick", "estimate")
        return replace(choice, gravity=gravity, stick=(choice.stick or tag) if of_stick else "")
    if name == "free":
        exact = choice.free_length.exact if choice.free_length else Fraction(0)
        length = next_step(exact, amount, COLUMN_STEP[system], Fraction(0), system)
        return replace(choice, free_length=length if length.exact else None)
    raise Missing(LABELS.get(name, name), "Enter types it; no step makes it up")


def value(name: str, text: str, woods: Mapping[str, Species], system: str) -> dict[str, object]:
    """What a typed value changes, field by field; raises a Refusal."""
    blank = text.strip() in ("", "0")
    if name in ("plan", "use"):
        return {name: species_key(text, woods)}
    if name == "layers":
        return {"layers": _read_layers(text, woods, system)}
    if name == "own":
        return {"own": _read_own(text)}
    if name == "slot":
        return {"cap_side": "", "cap": None} if blank else _read_slot(text, system)
    if name == "moisture":
        return {"moisture": None if not text.strip() else read_percent("moisture", text)}
    if name in ("free", "held_at") and blank:
        return {FIELDS.get(name, name): None}
    return {FIELDS.get(name, name): read_as(LABELS.get(name, name), "length", text, system)}


def _read_layers(text: str, woods: Mapping[str, Species], system: str) -> tuple[Layer, ...]:
    layers = []
    for item in text.split(","):
        size, _, wood = item.strip().partition(" ")
        # A mixed number has a blank in it: 1 1/8 white ash.
        more, _, rest = wood.partition(" ")
        if rest and more[:1].isdigit():
            size, wood = f"{size} {more}", rest
        for unit in ("in ", "mm "):
            if wood.startswith(unit):
                size, wood = f"{size} {unit.strip()}", wood.removeprefix(unit)
        if not wood:
            raise BadInput("layers", item.strip(), "has no wood after its thickness", LAYERS)
        layers.append(Layer(species_key(wood, woods), read_as("layers", "length", size, system)))
    return tuple(layers)


def _read_own(text: str) -> tuple[str, ...]:
    """Capacities by the beginning of a name, their own or as the table shows it."""
    found = []
    for item in text.replace(";", ",").split(","):
        wanted = " ".join(item.lower().split())
        names = [
            name
            for name in CAPACITIES
            if wanted and (name.startswith(wanted) or sections.CAPACITY[name].startswith(wanted))
        ]
        if len(names) != 1:
            raise BadInput("that matter", item.strip(), "is not one of them", ", ".join(CAPACITIES))
        found += names
    return tuple(dict.fromkeys(found))


def _read_slot(text: str, system: str) -> dict[str, object]:
    side, _, size = text.strip().partition(" ")
    if side.lower() not in ("width", "depth") or not size.strip():
        raise BadInput("slot", text, "does not say which side and how much", "width 3/4, or depth 19 mm")
    return {"cap_side": side.lower(), "cap": read_as("slot", "length", size, system)}


def shown_text(choice: SectionChoice, name: str) -> str:
    """What the entry line begins with where a value is mended rather than typed anew."""
    if name == "layers":
        return _layers(choice)
    return ", ".join(choice.own) if name == "own" else ""
