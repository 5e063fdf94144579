"""A reading that cannot be kept yet says what it lacks, and what to do for it."""

from bench.core.edits import PutStick, StartJob
from bench.core.records import Species, Stick, inches
from tests.tools.driving import Notebook, lines, picture, press, settled, spell, until

ASKED = "HOLD the waterline is read; the moisture is missing: type it below, or m dries a cut-off"


async def ready(pilot) -> None:
    await until(pilot, lambda: pilot.app.bench is not None and pilot.app.bench.river is not None, "the bench")
    await settled(pilot)


async def test_only_the_moisture_is_missing(woods: dict[str, Species]) -> None:
    bare = Stick("S-1", "sitka_spruce", inches("60"), inches("1"), inches("1"), None)
    app = Notebook(StartJob("Tansy"), PutStick(bare)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert "not floated yet" in picture(app)
        spell(app, "4.2")
        await press(pilot, "enter")
        assert ASKED in " ".join(picture(app).split()) and "not floated yet" not in picture(app)
        assert lines(app)[19] == "TRIED, cannot be kept yet: S-1, moisture: not given; type it, say 9.5"
        await press(pilot, "z")
        assert "the moisture is missing" in picture(app)
        await press(pilot, "z")
        spell(app, "12")
        await press(pilot, "enter", "enter")
        assert app.bench.job.stick("S-1").reading is not None
        assert "is missing" not in picture(app)


async def test_a_face_is_missing_too(woods: dict[str, Species]) -> None:
    bare = Stick("S-1", "sitka_spruce", inches("60"), inches("1"), inches("1"), None)
    app = Notebook(StartJob("Tansy"), PutStick(bare)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, *["tab"] * 5, "up")  # two faces
        spell(app, "4.2")
        await press(pilot, "enter")
        said = " ".join(picture(app).split())
        assert "HOLD read in part; face S not read yet: step or type it; the moisture is missing" in said
