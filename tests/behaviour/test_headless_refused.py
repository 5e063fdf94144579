"""Whatever is typed after a verb is answered, or refused in one line that names what is wrong."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from tests.tools.verb_examples import (
    AIR,
    ANSWERED,
    DRYING,
    FLOAT,
    INVENTED_WOOD,
    MOVEMENT,
    SECTION,
    WEIGH,
    answered_or_refused,
    own_file,
)

pytestmark = pytest.mark.usefixtures("home")


# --- refusals ------------------------------------------------------------------------------------------


def _with(words: tuple[str, ...], option: str, value: str) -> list[str]:
    changed = list(words)
    if option in changed:
        changed[changed.index(option) + 1] = value
        return changed
    return [*changed, option, value]


REFUSED = [
    # command, option, value, what the line must say besides
    (FLOAT, "--mark", "-1", "negative"),
    (FLOAT, "--mark", "-.5", "negative"),
    (FLOAT, "--mark", "- 1", "negative"),
    (FLOAT, "--mark", "0", "10 marks"),
    (FLOAT, "--mark", "10.1", "10 marks"),
    (FLOAT, "--mark", "0.01", "water surface"),
    (FLOAT, "--mark", "abc", "a mark on the stick like"),
    (FLOAT, "--mark", "nan", "finite"),
    (FLOAT, "--mark", "", "empty"),
    (FLOAT, "--mark", "4.5 in", "no unit"),
    (FLOAT, "--marks", "1", "2 to 100"),
    (FLOAT, "--marks", "4.5", "a whole number like"),
    (FLOAT, "--side", "0", "above zero"),
    (FLOAT, "--side", "half", "a length like"),
    (FLOAT, "--side", "-1/2 in", "negative"),
    (FLOAT, "--side", "1 lb", "measures a mass"),
    (FLOAT, "--side", "1e9 m", "100 m"),
    (FLOAT, "--side", "1e-9 m", "0.01 mm"),
    (FLOAT, "--length", "0", "above zero"),
    (FLOAT, "--length", "0.25 in", "more than the side"),
    (FLOAT, "--moisture", "wet", "a moisture like"),
    (FLOAT, "--moisture", "31", "0 to 30 %"),
    (FLOAT, "--moisture", "-5", "negative"),
    (FLOAT, "--moisture", "300", "0 to 200 %"),
    (FLOAT, "--water", "-5C", "0 to 40 C"),
    (FLOAT, "--water", "-5", "0 to 40 C"),
    (FLOAT, "--water", "50 C", "0 to 40 C"),
    (FLOAT, "--water", "warm", "a temperature like"),
    (FLOAT, "--angle", "200", "0 to 180"),
    (FLOAT, "--angle", "steep", "or none"),
    (FLOAT, "--in-water", "-1", "negative"),
    (FLOAT, "--in-water", "1e6", "86400"),
    (FLOAT, "--species", "sitka_sprce", "sitka_spruce"),
    (FLOAT, "--species", "Sitka spruce", "sitka_spruce"),
    (FLOAT, "--species", "q", "`tenthmark species`"),
    (FLOAT, "--variant", "class Z", "canadian"),
    ((*FLOAT[:2], "balsa", *FLOAT[3:]), "--variant", "class Z", "its file has none"),
    (FLOAT, "--units", "ft", "in, mm"),
    (WEIGH, "--mass", "0 g", "zero"),
    (WEIGH, "--mass", "9 lb", "1540"),
    (WEIGH, "--mass", "heavy", "a mass like"),
    (WEIGH, "--size", "1 x 1", "length"),
    (WEIGH, "--size", "0 x 1 x 1", "zero"),
    (WEIGH, "--size", "1 x two x 1", "'two'"),
    (WEIGH, "--moisture", "35", "0 to 30 %"),
    (SECTION, "--size", "0 x 1", "zero"),
    (SECTION, "--size", "1 x 1 x 1", "width x depth"),
    (SECTION, "--size", "big", "a size like"),
    (SECTION, "--match", "strength", "bending"),
    (SECTION, "--hold", "both", "width"),
    (SECTION, "--shape", "box", "needs --flange"),
    (SECTION, "--shape", "pipe", "rectangle, round, box, i, laminated"),
    (SECTION, "--use-sg", "60", "0.05 to 1.5"),
    (SECTION, "--plan-sg", "0", "zero"),
    (SECTION, "--plan-sg", "-0.4", "negative"),
    (SECTION, "--plan", "spruce", "spruce"),
    (SECTION, "--use", "white_as", "white_ash"),
    (SECTION, "--length", "0", "above zero"),
    (SECTION, "--grid", "0", "above zero"),
    (SECTION, "--moisture", "-1", "negative"),
    (AIR, "--humidity", "120", "0 to 98 %"),
    (AIR, "--humidity", "damp", "a humidity like"),
    (AIR, "--temperature", "-40", "-1 to 130 C"),
    (AIR, "--temperature", "-500 C", "colder"),
    (DRYING, "--wet", "40 g", "less than the dry mass"),
    (DRYING, "--dry", "0", "zero"),
    (DRYING, "--wet", "48.3 lb", "look at the units"),
    (MOVEMENT, "--ring", "across", "tangential"),
    (MOVEMENT, "--to", "-3", "negative"),
    (MOVEMENT, "--size", "0", "above zero"),
    (MOVEMENT, "--species", "balsam", "balsa"),
]


@pytest.mark.parametrize(("words", "option", "value", "says"), REFUSED)
def test_a_bad_value_is_refused_in_one_line(refused, words, option: str, value: str, says: str) -> None:
    for form in ((), ("--json",)):
        line = refused(*_with(words, option, value), *form)
        assert option in line
        assert value in line
        assert says in line


@pytest.mark.parametrize(
    ("words", "option"),
    [
        *((FLOAT, option) for option in ("--species", "--side", "--mark", "--moisture")),
        *((WEIGH, option) for option in ("--species", "--mass", "--size", "--moisture")),
        *((SECTION, option) for option in ("--plan", "--use", "--size", "--match")),
        *((MOVEMENT, option) for option in ("--species", "--size", "--ring", "--from", "--to")),
        *(((*AIR, "--json"), option) for option in ("--temperature", "--humidity")),
        *((DRYING, option) for option in ("--wet", "--dry")),
        (("cuts", "PLAN.json", ""), "PLAN.json"),
    ],
)
def test_what_is_missing_is_named(refused, words, option: str) -> None:
    at = words.index(option)
    line = refused(*words[:at], *words[at + 2 :])
    assert line.startswith(f"{option}: not given; ")
    assert line.endswith(" is wanted")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("moisture",), "--humidity"),
        ((*AIR, "--wet", "3"), "--wet, --temperature"),
        ((*MOVEMENT, "--dry", "3"), "--dry, --species"),
        ((*FLOAT, *("--mark", "4") * 4), "read one face, two opposite ones, three or four"),
        ((*FLOAT, "--side", "1"), "--side: given more than once (1/2, 1)"),
        ((*FLOAT, "--slope", "3"), "--slope: not an option of 'float'"),
        ((*FLOAT, "--moist", "9"), "--moist: not an option"),
        ((*FLOAT, "9"), "'9': not expected here"),
        ((*FLOAT, "--water"), "--water: has no value; a temperature like"),
        ((*FLOAT, "--json=yes"), "--json: takes no value"),
        (("species", "balsa", "balsa"), "'balsa': not expected here"),
        (("flaot",), "'flaot' is no file and no verb; float, weigh"),
        (("--verbose",), "'--verbose' is not known"),
        (("demo", "twice"), "'twice' is not expected after 'demo'"),
        (("x" * 300,), "is no file and no verb"),
    ],
)
def test_a_command_that_makes_no_sense_is_refused(refused, words, says: str) -> None:
    assert says in refused(*words)


def test_a_match_without_its_figure_is_refused(refused, home: Path) -> None:
    own_file(home, "bare_wood", INVENTED_WOOD)
    words = ("section", "--plan", "sitka_spruce", "--use", "bare_wood", "--size", "1", "--match")
    assert "--match toughness: the library has no energy to break" in refused(*words, "toughness")
    assert "--match: all" in refused(*words, "all")


def test_control_characters_never_reach_the_terminal(refused) -> None:
    line = refused(*_with(FLOAT, "--mark", "\x1b[2J\n7"))
    assert "\x1b" not in line


# --- whatever is typed ---------------------------------------------------------------------------------

TYPED = st.one_of(
    st.sampled_from(
        [
            "0",
            "-1",
            "1/2",
            "1-1/8",
            "1e99",
            "1e-99",
            "9" * 70 + "e99",
            ".000000001",
            "12.7 mm",
            "100 m",
            "nan",
            "-inf",
        ]
    ),
    st.sampled_from(
        ["20 C", "-5F", "1 x 1", "1e-4 mm x 99 m", "1 x 2 x 3", "none", "all", "--json", "-h", "--", "="]
    ),
    st.floats(0, 200).map(str),
    st.text(max_size=12),
)
OPTIONS = {
    "float": [
        *FLOAT[1::2],
        "--length",
        "--marks",
        "--water",
        "--angle",
        "--in-water",
        "--variant",
        "--later",
        "--weigh",
        "--weigh-size",
    ],
    "weigh": WEIGH[1::2],
    "section": [
        *SECTION[1::2],
        "--hold",
        "--length",
        "--plan-sg",
        "--use-sg",
        "--moisture",
        "--grid",
        "--shape",
    ],
    "air": AIR[1::2],
    "drying": DRYING[1::2],
    "movement": MOVEMENT[1::2],
}


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(sorted(OPTIONS)).flatmap(
        lambda name: st.tuples(
            st.just(name), st.lists(st.tuples(st.sampled_from(OPTIONS[name]), TYPED), min_size=1, max_size=3)
        )
    )
)
@example(("section", [("--size", "1e-4 mm x 99 m")]))
@example(("drying", [("--wet", "9" * 70 + "e99"), ("--dry", "1e-99")]))
def test_whatever_is_typed_is_answered_or_refused_in_one_line(capsys, typed) -> None:
    name, changes = typed
    words = list(ANSWERED[name])
    for option, value in changes:
        words = _with(tuple(words), option, value)
    if "-h" not in words:
        answered_or_refused(capsys, *words)
