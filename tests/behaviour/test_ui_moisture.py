"""The Moisture screen: oven test, air, and the section days later, by keys of the number pad."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import pytest

from bench.core.edits import ChooseSection, Edit, PutStick, ReadAir, StartJob
from bench.core.records import SectionChoice, ShopAir, Species, Stick, Typed, inches
from bench.ui.moisture_view import MoistureView
from tests.tools.driving import CLOCK, Notebook, feed, lines, picture, press, settled, shows, spell, until

WARM = Typed(Fraction(29315, 100), "20 C")
HALF = Typed(Fraction(1, 2), "50 %")
SIZES = [(80, 24), (60, 20)]


def stick(tag: str = "S-1", species: str = "sitka_spruce", moisture: str | None = "12") -> Stick:
    known = Typed(Fraction(moisture) / 100, f"{moisture} %") if moisture else None
    return Stick(tag, species, inches("60"), inches("1.25"), inches("1"), known)


def notebook(*edits: Edit, aired: bool = True) -> Notebook:
    """A job with the shop's air measured, 20 C and 50 %."""
    air = ShopAir(WARM, HALF) if aired else ShopAir()
    return Notebook(StartJob("Tansy"), ReadAir(air), *(edits or (PutStick(stick()),)))


async def ready(pilot: Any) -> MoistureView:
    await until(pilot, lambda: pilot.app.bench is not None and pilot.app.bench.river is not None, "the bench")
    await settled(pilot)
    await press(pilot, "m")
    return pilot.app.bench.query_one(MoistureView)


def down(name: str) -> list[str]:
    """Keys to a value from the first one, on the number pad."""
    names = ("wet", "dry", "air", "humidity", "width", "depth", "rings", "start", "end")
    return ["asterisk"] * names.index(name)


async def type_in(pilot: Any, text: str) -> None:
    spell(pilot.app, text)
    feed(pilot.app, "enter")
    await settled(pilot)


@pytest.mark.parametrize("size", SIZES)
async def test_an_oven_test_becomes_the_moisture_of_the_stick(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    """48.30 g dried to 43.10 g: 12.06 %, FPL R1903-7; one burst from the number pad, kept with Enter."""
    app = notebook(PutStick(stick(moisture=None))).open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        assert "weigh a cut-off" in picture(app)
        spell(app, "48.3")
        feed(app, "enter")
        spell(app, "43.1")
        feed(app, "enter")
        await until(pilot, shows(app, "TRIED, not kept"), "tried")
        assert "by drying 12.06 % of oven-dry weight" in picture(app)
        assert app.bench.job.stick("S-1").moisture is None, "nothing kept yet"
        await press(pilot, "enter")
        kept = app.bench.job.stick("S-1")
        assert kept.moisture.exact == Fraction(52, 431)
        assert [(test.wet.text, test.dry.text) for test in kept.ovens] == [("48.3 g", "43.1 g")]
        assert "S-1 has 12.06 % moisture" in picture(app)
        await press(pilot, "u")
        assert app.bench.job.stick("S-1").moisture is None


async def test_one_mass_alone_waits_and_escape_drops_it(woods: dict[str, Species]) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        await type_in(pilot, "48.3")
        assert "oven dry: not given" in picture(app)
        assert app.bench.job.stick("S-1").ovens == ()
        await press(pilot, "escape")
        assert view.fields()[0].shown == "-- type it"
        assert "48.3" not in picture(app)


@pytest.mark.parametrize("size", SIZES)
async def test_the_air_is_kept_and_says_which_way_the_stick_goes(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    """wh282 eq. 4-5: 70 F and 65 % settle wood at 11.96 %; a stick of 9 % takes up water."""
    app = notebook(PutStick(stick(moisture="9")), aired=False).open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await press(pilot, *down("air"))
        assert "give the shop's air" in picture(app)
        spell(app, "70 F")
        feed(app, "enter")
        spell(app, "65")
        feed(app, "enter", "enter")
        await until(pilot, lambda: app.bench.job.air.humidity is not None, "kept")
        air = app.bench.job.air
        assert (air.air.text, air.humidity.exact) == ("70 F", Fraction(65, 100))
        text = " ".join(picture(app).split())
        assert "11.96 % moisture" in text and "Simpson (wh282 eq." in text
        assert "2.96 % below it: it will take up water" in text


def joined(app: Any) -> str:
    """The right of a wide picture, or all of a narrow one, as one line of words."""
    wide = app.size.width >= 70
    return " ".join(" ".join(row[34:] if wide else row for row in lines(app)).split())


@pytest.mark.parametrize("size", SIZES)
async def test_what_the_section_measures_days_later(woods: dict[str, Species], size: tuple[int, int]) -> None:
    """wh190 eq. 13-2: 3/4 in of Sitka spruce, 0.00263 and 0.00148 per 1 %, from 12 to 9 %."""
    app = notebook().open(woods)
    async with app.run_test(size=size) as pilot:
        view = await ready(pilot)
        before = len(app.bench.ledger.record)
        await press(pilot, *down("end"))
        await type_in(pilot, "9")
        # 0.75 (1 - 3 x 0.00263) = 0.74408 and 0.75 (1 - 3 x 0.00148) = 0.74667
        assert "width 0.7441 in, -5.9 thousandths depth 0.7441 in" in joined(app)
        assert "the larger coefficient for both sides" in joined(app)
        await press(pilot, "shift+tab", "shift+tab", "up", "up")
        assert view.later.rings == "width tangential"
        assert "width 0.7441 in, -5.9 thousandths depth 0.7467 in, -3.3 thousandths" in joined(app)
        said = "tangential 0.00263, radial 0.00148 per 1 %, wh190 Table 13-5 (RECALLED, NOT READ)"
        assert said in joined(app)
        assert "no side lies wholly" not in joined(app)
        await press(pilot, "up")
        assert "width 0.7467 in, -3.3 thousandths depth 0.7441 in, -5.9 thousandths" in joined(app)
        await press(pilot, "up")
        assert "no side lies wholly" in joined(app), "once round"
        assert len(app.bench.ledger.record) == before, "looking at it records nothing"
        assert not app.bench.ledger.trying


@pytest.mark.parametrize("size", SIZES)
async def test_worst_answer_still_has_its_units_and_the_value_in_sight(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await press(pilot, *down("start"))
        await type_in(pilot, "35")
        await press(pilot, "asterisk")
        await type_in(pilot, "5")
        text = joined(app)
        assert "clamped to 30 %" in text and "6 to 14 %" in text
        assert text.count("thousandths") == 2 and "per 1 %, wh190 Table 13-5 (RECALLED, NOT READ)" in text
        assert "more: make the terminal taller" not in text
        assert any(row.startswith("to") and "> 5.00 %" in row for row in lines(app))


async def test_the_section_s_size_where_it_is_of_this_wood_else_the_stick_s(
    woods: dict[str, Species],
) -> None:
    ash = ChooseSection(SectionChoice(use="white_ash"))
    app = notebook(PutStick(stick()), ash).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        shown = {field.name: field.shown for field in view.fields()}
        assert shown["width"] == "1.2500 in (stick)"
        await press(pilot, *down("width"))
        await type_in(pilot, "19 mm")
        assert view.size_of("width") == (Fraction(19, 1000), "")
        await type_in(pilot, "0")
        assert view.size_of("width")[1] == "stick"
    app = notebook().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        assert {field.name: field.shown for field in view.fields()}["width"] == "0.7500 in (section)"


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("wet", "heavy", "oven wet"),
        ("wet", "0", "zero"),
        ("wet", "40", "less than the dry mass"),
        ("dry", "50", "less than the dry mass"),
        ("humidity", "99", "0 to 98 %"),
        ("humidity", "120", "humidity"),
        ("air", "-40 C", "-1 to 130 C"),
        ("air", "warm", "air"),
        ("width", "1 lb", "width"),
        ("end", "-3", "negative"),
    ],
)
async def test_what_cannot_be_is_refused_and_stays_to_be_mended(
    woods: dict[str, Species], name: str, typed: str, said: str
) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        other = {"wet": ("dry", "43.1"), "dry": ("wet", "48.3")}.get(name)
        if other and said.startswith("less"):
            await press(pilot, *down(other[0]))
            await type_in(pilot, other[1])
            view.at = 0
        await press(pilot, *down(name), "enter")
        spell(app, typed)
        await settled(pilot)
        await press(pilot, "enter")
        text = picture(app)
        assert said in text and typed in text
        assert app.bench.job.air == ShopAir(WARM, HALF)
        assert app.bench.job.stick("S-1").ovens == ()


@pytest.mark.parametrize("name", ["wet", "air", "humidity", "start", "end"])
async def test_no_step_makes_a_measurement_up(woods: dict[str, Species], name: str) -> None:
    app = notebook(PutStick(stick(moisture=None)), aired=False).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        await press(pilot, *down(name), "plus")
        assert "no step makes one up" in picture(app)
        assert {field.name: field.shown for field in view.fields()}[name] == "-- type it"


async def test_steps_of_what_is_there(woods: dict[str, Species]) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        await press(pilot, *down("humidity"), "plus", "pageup")
        assert app.bench.river.job.air.humidity.exact == Fraction(61, 100)
        await press(pilot, "shift+tab", "minus", "enter")
        assert app.bench.job.air.air.text == "19 C"
        await press(pilot, "asterisk", "asterisk", "plus")
        assert view.size_of("width")[0] == inches("49/64").exact
        await press(pilot, "asterisk", "asterisk", "asterisk", "minus")
        assert view.moisture_of("start") == (0.115, "")


async def test_another_stick_begins_with_its_own(woods: dict[str, Species]) -> None:
    app = notebook(PutStick(stick()), PutStick(stick("S-2", moisture="8"))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        await press(pilot, *down("start"))
        await type_in(pilot, "15")
        assert view.moisture_of("start") == (0.15, "")
        await press(pilot, "f", "right", "m")
        assert app.bench.river.tag == "S-2"
        assert view.moisture_of("start") == (0.08, "stick")


async def test_without_a_stick_there_is_still_the_air(woods: dict[str, Species]) -> None:
    app = notebook(ChooseSection(SectionChoice(use="white_ash"))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        assert [field.name for field in view.fields()][:2] == ["air", "humidity"]
        assert "this air brings wood to 9.27 %" in picture(app)
        assert view.size_of("width")[1] == "section"


def titles(view: MoistureView) -> Sequence[str]:
    return [step.title for step in view.steps()]


async def test_the_working_has_every_answer(woods: dict[str, Species]) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        view = await ready(pilot)
        assert titles(view) == [
            "moisture in constant air",
            "the stick against the air",
            "width, tangential",
            "depth, tangential",
        ]
        await type_in(pilot, "48.3")
        await type_in(pilot, "43.1")
        await press(pilot, "enter")
        assert titles(view)[0] == "moisture by drying"
        assert app.bench.job.stick("S-1").ovens[0].taken in ("", CLOCK[:10])
