"""What the verbs on specific gravity say alike: keys of the JSON object, and rows of the tables."""

from typing import Any

from bench import units
from bench.core import evidence, working
from bench.core.acceptance import Verdict
from bench.core.evidence import Advice, MarkRow, Standing
from bench.core.floating import FloatResult
from bench.core.frozen import replace
from bench.core.records import Figure
from bench.core.repeats import Agreement
from bench.core.spread import Measured
from bench.headless.answers import Table
from bench.sheets import wording


def of(result: Measured) -> dict[str, Any]:
    """A gravity on every basis, with its band."""
    return {
        "as_floated": result.as_floated,
        "sg_at_moisture": result.sg_at_moisture,
        "sg_12": result.sg_12,
        "sg_oven_dry": result.sg_oven_dry,
        "sg_green": result.sg_green,
        "uncertainty": result.uncertainty,
        "low": result.low,
        "high": result.high,
    }


def limits(verdict: Verdict) -> dict[str, Any]:
    """The published limits with their standing, and how far they are off."""
    found: dict[str, Any] = {}
    for name, figure in (
        ("minimum", verdict.minimum),
        ("average", verdict.average),
        ("maximum", verdict.maximum),
    ):
        found[name] = figure.value if figure else None
        found[f"{name}_standing"] = figure.standing if figure else None
        found[f"{name}_source"] = working.place(figure) if figure else None
    margins = {"margin": verdict.margin, "margin_maximum": verdict.margin_maximum}
    return {**found, **margins, "basis": wording.BASIS}


def verdict(verdict: Verdict, advice: tuple[Advice, ...] = ()) -> dict[str, Any]:
    """The word and its reasons; the best advice goes with a hold."""
    return {"verdict": verdict.word, "reasons": list(wording.reasons(verdict, _best(advice)))}


def _best(advice: tuple[Advice, ...]) -> Advice | None:
    return advice[0] if advice else None


def budget(result: Measured) -> list[dict[str, Any]]:
    """What the uncertainty is made of, largest first."""
    return [
        {
            "cause": cause.name,
            "standard_deviation": cause.sd,
            "share_of_variance": cause.share_of_variance,
        }
        for cause in evidence.budget(result)
    ]


def advised(advice: Advice) -> dict[str, Any]:
    """One thing that would narrow the band."""
    return {
        "advice": advice.code,
        "text": wording.advised(advice),
        "half_width_before": advice.before,
        "half_width_after": advice.after,
    }


def standing(found: Standing | None) -> dict[str, Any]:
    """The percentile within the species, an estimate, with what it rests on; nulls without an average."""
    return {
        "percentile": found.percentile if found else None,
        "percentile_basis": wording.standing(found) if found else None,
    }


def agreement(found: Agreement | None) -> dict[str, Any] | None:
    """The float test against weight and size."""
    if found is None:
        return None
    return {
        "weighed_sg_oven_dry": found.weighed,
        "difference": found.difference,
        "half_width": found.half_width,
        "agree": found.agree,
    }


def marks(row: MarkRow) -> dict[str, Any]:
    """Where the limits stand on the stick at one moisture [marks]."""
    return {
        "moisture_percent": round(row.moisture * 100, 9),
        "minimum_mark": row.minimum,
        "average_mark": row.average,
        "maximum_mark": row.maximum,
    }


def angle_said(result: FloatResult) -> str:
    """Which contact angle was used, in words."""
    if result.angle_deg is None:
        return "no correction asked for"
    return f"of the stick's length, contact angle {result.angle_deg:g} degrees"


def rows(result: Measured, verdict: Verdict) -> tuple[tuple[str, ...], ...]:
    """The gravity on every basis and the limits, as rows of a table."""
    shown = replace(verdict, value=result.sg_oven_dry, low=result.low, high=result.high)
    shrinkage = f"S_0 {units.percent(result.shrinkage)}, {result.shrinkage_from}"
    return (
        (
            "density over water at 4 C",
            units.gravity(result.as_floated),
            "weight with its water, volume as it is",
        ),
        (
            "specific gravity",
            units.gravity(result.sg_at_moisture),
            f"oven-dry weight on volume at {units.percent(result.moisture)} moisture",
        ),
        ("specific gravity at 12 %", units.gravity(result.sg_12), wording.BASIS_12),
        ("specific gravity green", units.gravity(result.sg_green), "oven-dry weight on green volume"),
        ("specific gravity oven-dry", wording.gravity(shown), f"{wording.BASIS}; {shrinkage}"),
        ("95 % band", wording.band(shown), f"{wording.BASIS}; standard deviation {result.uncertainty:.4f}"),
        ("minimum", *_limit(verdict.minimum)),
        ("average", *_limit(verdict.average, _at_large(verdict))),
        *((("maximum", *_limit(verdict.maximum)),) if verdict.maximum else ()),
    )


def _limit(figure: Figure | None, said: str = "") -> tuple[str, str]:
    if figure is None:
        return "unknown", "the library has none on this basis"
    return units.gravity(figure.value), f"{wording.BASIS}{said}; {working.place(figure)}"


def _at_large(verdict: Verdict) -> str:
    """Said where the limit is a class's own and the average is not."""
    minimum, average = verdict.minimum, verdict.average
    apart = minimum is not None and average is not None and minimum.variant != average.variant
    return ", of the species at large" if apart else ""


def standing_rows(found: Standing | None) -> tuple[tuple[str, ...], ...]:
    """The place in the species as a row of a table."""
    return (("place in the species", "ESTIMATE", wording.standing(found)),) if found else ()


def verdict_rows(verdict: Verdict, advice: tuple[Advice, ...] = ()) -> tuple[tuple[str, ...], ...]:
    """The verdict and its reasons as rows of a table."""
    first, *others = wording.reasons(verdict, _best(advice))
    return (("verdict", wording.word(verdict), first), *(("", "", other) for other in others))


def table(title: str, rows: tuple[tuple[str, ...], ...]) -> Table:
    """Values with their basis."""
    return Table(title, ("", "value", "basis"), rows)


def budget_table(result: Measured) -> Table:
    """What the uncertainty is made of."""
    rows = tuple(
        (wording.CAUSES[cause.name], f"{cause.sd:.4f}", units.percent(cause.share_of_variance))
        for cause in evidence.budget(result)
    )
    return Table(
        "What the uncertainty is made of", ("cause", "standard deviation", "share of the variance"), rows
    )
