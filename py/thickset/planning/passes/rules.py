"""The rules of a plan in words, each with how it is known and where it holds. What computes a number by a rule carries its steps."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from thickset.trade.formula import Function, formula


class Rule(NamedTuple):
    """A rule by its number: what it says, where it comes from, how it is known, its limits.

    >>> RULES[2].known
    'derived'
    """

    words: str
    source: str
    known: str
    limits: str


PRACTICE = "common practice, no source"

RULES: dict[int, Rule] = {
    1: Rule(
        "The last settings are fixed: the target, one finish cut above it, two finish cuts above it. "
        "Every setting before those stands a whole number of steps above them.",
        PRACTICE,
        "common practice",
        "Where the thickest board stands no more than two finish cuts above the target, half of what is over, rounded down "
        "to a whole step, is taken first. If that is under the lightest cut, one pass takes it all.",
    ),
    2: Rule(
        "A pass feeds the boards whose thick spot is above its setting. The others wait.",
        "follows from what a setting is: after a pass no spot of a board is thicker",
        "derived",
        "As good as the readings: a thick spot that was not measured shows itself at the planer.",
    ),
    3: Rule(
        "The cut is the board's thick spot as it now is, less the setting. It is no more than the planned cut, the planer's "
        "deepest cut, and what the load allows.",
        "geometry; the limits are the machine's manual's and your own",
        "derived",
        "At the thick spot. Elsewhere the cut is lighter.",
    ),
    4: Rule(
        "From the second pass on settings are at least the lightest cut apart.",
        PRACTICE,
        "common practice",
        "A lighter cut may leave the marks of a serrated infeed roller. How deep those are no published table says.",
    ),
    6: Rule(
        "The fastest of the planer's feeds at which every board keeps its limits and the marks per inch reach what is wanted. "
        "If no feed reaches the marks, the slowest. Without a head in the job: the fastest for rough passes, the slowest for "
        "finish passes.",
        "marks per inch: trade engineering text; to take the fastest that will do: follows from the fewest minutes",
        "read",
        "The marks of the knives that mark: one, unless the knives are jointed in place.",
    ),
    7: Rule(
        "A board goes in with face B up and end 1 first, and the same way again until the top has cleaned up. From then on it is "
        "flipped end over end before every pass, which swaps face and end and keeps the run of the grain against the knives.",
        "flipping end over end keeps the grain: geometry; to take off both faces alike: common practice, no source",
        "derived",
        "The grain as it was on the first pass. A board whose grain turns may tear either way.",
    ),
    8: Rule(
        "Setting the planer, handling each board, each board's length at the feed, and measuring a test piece when the setting is "
        "near the target. On a scale of which nothing is known, the first piece of the first pass is measured too.",
        PRACTICE,
        "common practice",
        "As good as the seconds entered. Time yourself for a better figure.",
    ),
    9: Rule(
        "Of all settings that keep the rules, those of this plan take the fewest minutes. Where others take the same time: "
        "fewer passes, then whole, half and quarter turns, then evener cuts.",
        "exact search; the tests hold it to an independent solver",
        "derived",
        "The fewest by the seconds and feeds entered. The piece that tells of an unknown scale is not weighed, so that the settings are those "
        "of a known one.",
    ),
    10: Rule(
        "Both faces are planed when the thin spot reaches the second-last setting and the thick spot is above it. One face is planed when the thin spot "
        "reaches only the target. A board is short when its thin spot does not reach the target, and untouched when no spot is above the target.",
        "follows from the settings: a face has cleaned up when the setting is no higher than the thin spot",
        "derived",
        "As good as the readings: a thinner spot that was not measured comes out short.",
    ),
    12: Rule(
        "With something left for after a rest the plan is two stages of one job. The first stops that much above the target. "
        "Then the boards rest and are measured again. The second goes from there to the target. Each keeps all the rules by itself. "
        "The target of the first is the thickness it stops at. After the rest boards go on being turned as before it.",
        PRACTICE,
        "common practice",
        "The second stage is planned for boards that do not move. It is planned anew from what they measure after the rest. "
        "When no board is above where the first stage would stop, there is one stage.",
    ),
}


def by_rule(number: int, title: str, *, steps: str, in_inch: str = "", **inputs: str) -> Callable[[Function], Function]:
    """Writes down that a function computes a number of the plan by a rule, and by which steps, as `formula` does [units in the texts].

    >>> by_rule(1, "setting [mm]", target="T [mm] target", steps="S = T")(abs) is abs
    True
    """
    rule = RULES[number]
    return formula(
        title,
        rule.words,
        limits=rule.limits,
        source=rule.source,
        known=rule.known,
        steps=steps,
        in_inch=in_inch,
        **inputs,
    )
