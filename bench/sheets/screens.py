"""What each screen is for, its method in a few sentences, and what to be careful of: its help.

A key is named by its action (`<go.stock>`); the screen puts in the key that the user has given it.
"""

from bench.core.frozen import record
from bench.sheets import breaking


@record
class Help:
    """The help of one screen."""

    what: str
    method: tuple[str, ...] = ()
    caution: str = ""


NO_APPROVAL = (
    "CAUTION: a figure here is no approval. Changing a member or its wood changes the design: that is for "
    "the designer or manufacturer, the authority and licensed practice."
)
SAW = (
    "CAUTION: guard, push stick, eye protection, dust extraction, hands clear of the blade; saws kick back. "
    "Local codes and the maker's instructions come first."
)

HELP = {
    "float": Help(
        "Float: read where the water stands on a square stick marked in tenths, and see whether its wood is "
        "heavy enough.",
        (
            "The submerged share of the length, less the pull of the water's surface, times the water's "
            "density is the density of the stick as it floats. The moisture is taken off weight and volume, "
            "which gives the specific gravity that the published limits are written in: oven-dry weight on "
            "oven-dry volume.",
            "ACCEPT and REJECT stand only where the whole 95 % band lies on one side of the limit; else it "
            "is HOLD, with what would settle it. 'draw the minimum' says where the limit stands on this "
            "stick today.",
            "Type the waterline, Enter; the moisture, Enter; Enter keeps the reading. <go.evidence> shows "
            "what the band is made of, <go.working> every step with its source.",
        ),
        NO_APPROVAL,
    ),
    "section": Help(
        "Section: another wood in place of the drawing's, and the size that matches it.",
        (
            "Weight goes with the area, bending with width x depth squared, stiffness with width x depth "
            "cubed, long columns with the least second moment. The size is solved for the capacity you "
            "match and goes up to the next step of the shop, never to the weak side.",
            "The table shows what the match gives away: below 100 % the new section is the weaker one. "
            "'weaker in nothing' matches whatever governs.",
        ),
        NO_APPROVAL,
    ),
    "cuts": Help(
        "Cuts: which part is cut from which stick.",
        (
            "Only sticks that are good for what a part becomes are used, round their defects, with the saw's "
            "kerf between neighbours. First the critical parts, then all parts, then the fewest sticks, the "
            "longest piece left, dense sticks for critical parts, least waste.",
            "A proved bound stands beside the plan: it says whether fewer sticks could do at all. "
            "<cuts.saw> goes to the saw; from the first cut on the layout stays as it is.",
        ),
        SAW,
    ),
    "saw": Help(
        "Saw: one cut at a time. The stop is the length from the stick's cut end, the fence the finished "
        "width.",
        (
            "Each cut that is ticked off is saved at once. What goes wrong has a key of its own: the piece "
            "is spoiled, it came off short, a defect is found, the stick is condemned. What is cut stays, "
            "the rest is laid out anew, and what moved is listed.",
            "A key that is held or bounces counts once, and <job.undo> takes the last cut back.",
        ),
        SAW,
    ),
    "inspect": Help(
        "Inspect: rings, slope of grain, edge grain, bow and defects of the stick in hand, judged for each "
        "use.",
        (
            "Each point is held against ANC-19 and AC 43.13-1B, the stricter one unless you choose in Shop; "
            "the worst point decides. Slopes on two faces add up as the root of the sum of their squares.",
            "What is not measured is a hold, never a pass. A defect is typed as it lies: "
            "30-32 knot 1/4 edge 3/8 is a knot of 1/4 in, 3/8 in from the nearer edge of its face. A value "
            "that was typed goes on to the next that is missing.",
        ),
        "CAUTION: selecting wood for aircraft is a specialist's skill; decay and compression failures hide.",
    ),
    "evidence": Help(
        "Evidence: what the gravity of the stick in hand rests on.",
        (
            "Every cause of doubt with its share of the band, and what would narrow it; all readings, of "
            "which one a day counts; the check by weight and size; the place among its wood; the minimum "
            "line over moisture; and the strength that gravity and grain let one expect, with its whole "
            "spread.",
        ),
        "CAUTION: an estimated strength is an estimate, no test and no approval.",
    ),
    "moisture": Help(
        "Moisture: by drying a cut-off, by the shop's air, and what a section does on the way.",
        (
            "By drying: (wet - dry) / dry. In air, wood tends to the equilibrium moisture of temperature and "
            "humidity. Between 6 and 14 % a size moves by its coefficient times the change of moisture.",
        ),
        "CAUTION: an oven that dries wood can set it on fire: 103 C, never unwatched, fumes outdoors.",
    ),
    "stock": Help(
        "Stock: the sticks and planks of the rack, each with its gravity and what it is good for.",
        (
            "The scale runs round the limits of the stick's own wood: where the minimum and the average "
            "stand, the stick, and its 95 % band. A stick is good for a use only if gravity and inspection "
            "both are.",
            "Lengths are read as people write them: 3/4, 1-1/8, 34 3/8, .407, 10.3 mm, 2' 6\".",
        ),
    ),
    "parts": Help(
        "Parts: the drawing's list, and what each part becomes in the wood that stands in.",
        (
            "A part that is drawn in the wood of the Section pane is resized with it; others keep their "
            "size. What a part becomes (small part, spar flange, solid spar) says which rules its stick "
            "must pass.",
        ),
        NO_APPROVAL,
    ),
    "buying": Help(
        "Buy: what to order for the parts that have no place, from the planks that can be had.",
        (
            "The order is laid out like the rack, in planks as offered. On top come as many more as give 9 "
            "chances in 10 that enough are good, at the reject rate of your own lots. Board feet are of "
            "rough size.",
            "Bought wood is floated and inspected like any other before it counts.",
        ),
    ),
    "breaks": Help(
        "Breaks: coupons and how they broke, each beside the handbook.",
        (
            "A coupon is cut from a stick of the rack, or is of a wood. Its cells are the set-up; "
            "<breaks.test> shows the test, blow by blow or load by load, and again its group.",
            "Results of other machines, weights or sizes are never converted into one another.",
        ),
        breaking.CAUTION,
    ),
    "trial": Help(
        "Test: one coupon on the whole screen, one key a blow.",
        (
            "Drop test: the energy of the blow that cracked it; the blows before it are exposure, not "
            "strength. Bending: R = 1.5 P L / (b d^2), stiffness from the straight part. Each value is "
            "saved as it comes.",
        ),
        breaking.CAUTION,
    ),
    "groups": Help(
        "Groups: coupons of one set-up together, and one group against another.",
        (
            "The lower limit is the one that 95 of 100 pieces exceed, at 75 % confidence, by the noncentral "
            "t law, from three coupons on; two groups are compared by Welch's interval. The coupons are "
            "taken for a random sample of one lot.",
        ),
        breaking.CAUTION,
    ),
    "woods": Help(
        "Woods: every wood and your own lots for the section, lightest first.",
        (
            "The same match as on the Section pane, worked out for each. Enter tries a wood there; nothing "
            "is kept before Enter on that pane.",
        ),
        NO_APPROVAL,
    ),
    "species": Help(
        "Species: every figure of a wood with its moisture, basis, source and place.",
        (
            "Read in print, common practice without a source, and recalled are kept apart. A recalled limit "
            "never accepts or rejects a stick: it holds.",
        ),
    ),
    "shop": Help(
        "Shop: the habits of the shop that sizes and cut lists rest on, your own stricter limits, and how "
        "the screen looks.",
        (
            "A stick on hold goes into the cut list only where you say so here, and is marked; a rejected "
            "one never does. Limits of your own count only where they are stricter than the published ones.",
            "What belongs to the job (down to your own limits) is tried until Enter keeps it, and can be "
            "undone. Theme and characters are yours, not the job's: they change at once and hold for every "
            "job.",
        ),
    ),
    "trace": Help(
        "Trace: from a part back to its cuts, sticks, readings and limits, or from a stick on to every part "
        "made of it. Enter follows a line.",
    ),
    "earlier": Help(
        "As it was: the job after one entry of the record, held against now. One single thing can be taken "
        "as it was then, as a change of today.",
    ),
    "parcel": Help(
        "Bring in: a parcel of another job, held against this one. Every clash is decided by you before "
        "anything is brought in.",
        caution="CAUTION: another shop's figures are brought in as they are; check what they rest on.",
    ),
    "record": Help(
        "Record: everything that was accepted, the newest first. Nothing is ever overwritten; undo is an "
        "entry of its own.",
    ),
    "working": Help("Working: the formula, the numbers put in, the units, the basis and the source of each."),
    "actions": Help("Actions: everything that can be done. Type a few letters of it; Enter does it."),
}
