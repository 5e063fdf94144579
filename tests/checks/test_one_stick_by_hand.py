"""One stick and one part by hand, from the waterline to the printed sheet: follow it with a pencil.

INVENTED: stick W-1 of white ash, 96 in long, 7/8 in square, a knot from 31 to 33 in, 9.5 % moisture. A
float stick of 1/2 by 1/2 by 5 in is cut from it, marked in tenths; it floats in distilled water of 20 C with
the waterline at 6.80. The drawing asks for a longeron 34 3/8 in long, 3/4 in square, of Sitka spruce. Ash is
to take its place at equal weight.

Each line of `pencil` is one sum of the page, done here with decimals of six figures as on paper, with the
figures of the tables typed in again. What the program says is then held against it, on the screens, the
sheets and the verbs alike.

Sources, each beside its figure: wh282 is the Wood Handbook of 2021 (FPL-GTR-282), wh190 that of 2010; the
water's density is Tanaka's, its surface tension the release of IAPWS.
"""

import json
import re
from decimal import ROUND_HALF_EVEN, Context, Decimal, getcontext, localcontext
from fractions import Fraction
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.core.edits import ChooseSection, MarkCut, PutPart, PutStick, StartJob, TakeReading
from bench.core.records import (
    CutMade,
    Defect,
    FloatReading,
    Part,
    SectionChoice,
    Species,
    Stick,
    Typed,
    inches,
)
from bench.core.river import River, flow
from bench.sheets import cut_sheet, section_sheet, stick_sheet, writing_html, writing_text
from tests.tools.driving import Notebook, picture, press
from tests.tools.job_files import saved
from tests.tools.sticks import SOUND

D = Decimal
INCH = Fraction(254, 10_000)


def pencil() -> dict[str, Decimal]:
    """Every sum of the page, in its order."""
    with localcontext(Context(prec=6, rounding=ROUND_HALF_EVEN)):
        page: dict[str, Decimal] = {}
        # 1. The waterline stands at 6.80 of 10 marks.
        page["share"] = D("6.80") / 10
        # 2. The water's edge pulls it down: 4 sigma cos(theta) over rho g w L. Surface tension 72.74 mN/m at
        #    20 C (IAPWS R1-76(2014)), contact angle 60 degrees (common practice, no source), cos 60 = 1/2;
        #    density 998.21 kg/m3 (Tanaka 2001); gravity 9.80665 m/s2; 1/2 in = 0.0127 m, 5 in = 0.127 m.
        page["pull"] = 4 * D("0.07274") * D("0.5") / (D("998.21") * D("9.80665") * D("0.0127") * D("0.127"))
        # 3. Density over water at 4 C, wet, as it floats.
        page["wet"] = (page["share"] - page["pull"]) * D("0.99821")
        # 4. Without its water: 9.5 % of the oven-dry weight (wh282 p. 4-10).
        page["at moisture"] = page["wet"] / D("1.095")
        # 5. Shrinkage of white ash from green to oven-dry 13.3 % of volume (wh190 table 4-3, p. 4-6); down to
        #    9.5 % it has shrunk by the share of it that lies between 30 % and 9.5 % (wh282 eq. 4-9).
        page["shrunk"] = D("0.133") * (1 - D("9.5") / 30)
        # 6. On oven-dry volume, the basis of the aircraft limits (anc19 sec. 2.20).
        page["oven-dry"] = page["at moisture"] * (1 - page["shrunk"]) / (1 - D("0.133"))
        # 7. Against the minimum 0.56 (common practice, no published source).
        page["margin"] = page["oven-dry"] - D("0.56")
        # 8. Where 0.56 stands on this stick today: the same way back.
        at_moisture = D("0.56") * (1 - D("0.133")) / (1 - page["shrunk"])
        page["line"] = 10 * (at_moisture * D("1.095") / D("0.99821") + page["pull"])
        # 9. The section by weight: averages at 12 % 0.40 and 0.60 (wh282 table 5-3b); area goes as their
        #    ratio, each side as its square root.
        page["side ratio"] = (D("0.40") / D("0.60")).sqrt()
        page["side"] = D("0.75") * page["side ratio"]
        # 10. Up to the next 1/64 in: 39.19 are 40, which is 5/8 in.
        page["sixty-fourths"] = page["side"] * 64
        page["shop"] = D(40) / 64
        # 11. What the shop size gives away: MOR 15,000 and 10,200 lbf/in2, MOE 1.74 and 1.57 million lbf/in2
        #     (wh282 table 5-3b); strength goes with the cube of the side, stiffness with its fourth power.
        shrink = page["shop"] / D("0.75")
        page["bending"] = shrink**3 * 15000 / 10200
        page["stiffness"] = shrink**4 * D("1.74") / D("1.57")
        # 12. The cut: behind the knot at 33 in; the blade takes 1/8 in; the rest is whole.
        page["from"], page["to"] = D(33), 33 + D("34.375")
        page["left"] = 96 - page["to"] - D("0.125")
        # 13. The finished piece at 12 % moisture: 0.60 with 12 % water; water 62.428 lb/ft3, 1728 in3 a foot.
        page["weight"] = page["shop"] ** 2 * D("34.375") / 1728 * D("0.60") * D("1.12") * D("62.428")
        return page


PENCIL = pencil()
DRY = Typed(Fraction(95, 1000), "9.5 %")
KNOT = Defect(inches("31"), inches("33"), "knot", size=inches("1/4"), edge=inches("3/8"))
STICK = Stick(
    "W-1", "white_ash", inches("96"), inches("7/8"), inches("7/8"), DRY,
    lot="invented lot", defects=(KNOT,), inspection=SOUND,
)  # fmt: skip
FLOATED = FloatReading(
    (6.8,), inches("1/2"), inches("5"), DRY, Typed(Fraction(29315, 100), "20 C"), taken="2026-03-14"
)
LONGERON = Part(
    "longeron", Typed(Fraction(275, 8) * INCH, "34 3/8 in"), inches("3/4"), inches("3/4"), critical=True
)
EDITS = (
    StartJob("Worked example", started="2026-03-14", invented=True),
    PutStick(STICK),
    TakeReading("W-1", FLOATED),
    PutPart(LONGERON),
    ChooseSection(SectionChoice(use="white_ash")),
)


@pytest.fixture(scope="module")
def river(woods: dict[str, Species]) -> River:
    """The same stick and part in the program."""
    return flow(Notebook(*EDITS).history.job, woods)


def shown(name: str, places: int) -> str:
    """A figure of the page as the program writes it."""
    return f"{PENCIL[name]:.{places}f}"


def test_the_page_itself() -> None:
    """The sums as a reader would write them down."""
    assert getcontext().prec >= 6
    written = {
        "share": "0.6800", "pull": "0.00921", "wet": "0.6696", "at moisture": "0.6115", "shrunk": "0.09088",
        "oven-dry": "0.6412", "margin": "0.0812", "line": "5.951", "side ratio": "0.8165", "side": "0.6124",
        "sixty-fourths": "39.19",
        "bending": "0.8510", "stiffness": "0.5345", "left": "28.500", "weight": "0.3260",
    }  # fmt: skip
    for name, text in written.items():
        assert shown(name, len(text.partition(".")[2])) == text, name


def test_the_program_computes_the_page(river: River) -> None:
    result = river.hand.result
    assert result.sg_oven_dry == pytest.approx(float(PENCIL["oven-dry"]), abs=2e-5)
    resized = river.section.resized
    assert float(resized.shop[0] / INCH) == float(PENCIL["shop"])
    assert resized.shop_ratios["bending"] == pytest.approx(float(PENCIL["bending"]), rel=1e-5)
    assert resized.shop_ratios["stiffness"] == pytest.approx(float(PENCIL["stiffness"]), rel=1e-5)
    (placed,) = river.plan.sticks
    (piece,) = placed.pieces
    assert (piece.start / INCH, piece.end / INCH) == (33, Fraction(539, 8))
    assert [(low / INCH, high / INCH) for low, high in placed.offcuts] == [(0, 31), (Fraction(135, 2), 96)]


def sheets(river: River, woods: dict[str, Species]) -> dict[str, str]:
    ash = woods["white_ash"]
    return {
        "stick": writing_text.write(stick_sheet.sheet(river.hand, ash, river.job)),
        "section": writing_text.write(section_sheet.sheet(river.section, river, woods)),
        "cuts": writing_text.write(cut_sheet.sheet(river, woods)),
        "page": re.sub(r"<[^>]*>", " ", writing_html.write(cut_sheet.sheet(river, woods))),
    }


def test_the_sheets_print_the_page(river: River, woods: dict[str, Species]) -> None:
    text = sheets(river, woods)
    assert f"-> p = {shown('pull', 4)}" in text["stick"]
    assert f"-> R = {shown('wet', 4)}" in text["stick"]
    assert f"-> G_M = {shown('at moisture', 4)}" in text["stick"]
    assert f"-> G_0 = {shown('oven-dry', 4)}" in text["stick"]
    assert f"-> margin = {shown('margin', 4)}" in text["stick"]
    assert f"-> line = {shown('line', 3)} marks" in text["stick"]
    assert f"specific gravity {shown('oven-dry', 3)} +/-" in text["stick"]
    assert f"exact      {shown('side', 4)} in x {shown('side', 4)} in" in text["section"]
    assert "shop size  5/8 x 5/8 in" in text["section"]
    assert f"-> k = {shown('side ratio', 4)}" in text["section"]
    bending, stiffness = (f"{PENCIL[name] * 100:.1f} %" for name in ("bending", "stiffness"))
    assert f"bending strength {bending}, stiffness {stiffness}" in text["section"]
    for sheet in ("cuts", "page"):
        for figure in ("34 3/8 in", "33 in", "67 3/8 in", "28 1/2 in", "5/8 x 5/8 in"):
            assert figure in re.sub(r"\s+", " ", text[sheet]), (sheet, figure)
    assert f"weight {shown('weight', 3)} lb" in re.sub(r" +", " ", text["cuts"])


async def test_the_screens_show_the_same_figures(woods: dict[str, Species]) -> None:
    app = Notebook(*EDITS).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "f")
        bench = picture(app)
        # The line is shown up, to the strict side: 5.951 is 5.96.
        assert f"{shown('oven-dry', 3)} +/-" in bench and "draw the minimum 0.560 at 5.96" in bench
        assert "3/4 x 3/4 in -> 5/8 x 5/8 in white ash by weight" in bench
        assert f"+{shown('margin', 3)}" in bench
        await press(pilot, "w")
        working = picture(app)
        for _ in range(4):
            await press(pilot, "pagedown")
            working += picture(app)
        for name, symbol in (("pull", "p"), ("wet", "R"), ("at moisture", "G_M"), ("oven-dry", "G_0")):
            assert f"-> {symbol} = {shown(name, 4)}" in working, name
        await press(pilot, "s")
        section = picture(app)
        assert shown("side", 4) in section and "85.1 %" in section and "53.4 %" in section
        await press(pilot, "c", "enter")
        saw = picture(app)
        assert "34 3/8" in saw and "67 3/8 in" in saw and "33 in" in saw


def test_the_verbs_answer_the_same_figures(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("TENTHMARK_HOME", str(tmp_path / "home"))
    path = saved(tmp_path / "one.tenthmark", *EDITS)

    def answer(*words: str) -> dict:
        assert main([*words, "--json"]) == 0
        return json.loads(capsys.readouterr().out)

    floated = answer(
        "float",
        "--species",
        "white_ash",
        "--side",
        "1/2",
        "--mark",
        "6.80",
        "--moisture",
        "9.5",
        "--water",
        "20C",
    )
    assert f"{floated['sg_oven_dry']:.4f}" == shown("oven-dry", 4)
    section = answer(
        "section", "--plan", "sitka_spruce", "--use", "white_ash", "--size", "3/4 x 3/4", "--match", "weight"
    )
    assert f"{section['width_in']:.4f}" == shown("side", 4)
    cuts = answer("cuts", str(path))
    (placed,) = cuts["sticks"]
    (piece,) = placed["cuts"]
    assert (piece["from_in"], piece["to_in"]) == (float(PENCIL["from"]), float(PENCIL["to"]))


def test_a_cut_piece_leads_back_to_the_reading(river: River, woods: dict[str, Species]) -> None:
    """And once it is cut, the trace carries the same figures to the part."""
    from bench.core import tracing
    from bench.sheets import tracing as words

    cut = CutMade(
        "longeron", "W-1", 33 * INCH, Fraction(539, 8) * INCH, Fraction(5, 8) * INCH, Fraction(5, 8) * INCH
    )
    notebook = Notebook(*EDITS, MarkCut(cut))
    after = flow(notebook.history.job, woods)
    trace = tracing.of_part("longeron", after, tracing.notes(notebook.entries))
    text = "\n".join(row.text for row in words.of_part(trace, after, woods))
    assert f"gravity {shown('oven-dry', 3)} oven-dry" in text
    assert "cut: longeron from W-1, 33 in to 67 3/8 in, to 5/8 x 5/8 in; entry 6" in text
    assert "3/4 x 3/4 in drawn; made 5/8 x 5/8 in of white ash" in text and "stiffness 53.4 %" in text
