"""What may go wrong in a burn that goes well as drawn: how many burns over the bands of the factors it strikes."""

from burnsim.solve import Burn
from burnsim.studies.predict.prediction import Prediction

LEAST = 0.01  # share of the burns from which a risk is told
WORDS = {
    "never lit": "nothing lights",
    "never blooms": "the jets never light",
    "quenched": "the jets go out with fuel left",
    "smothered": "the flames over the well lack air and make carbon monoxide",
    "blown out": "the wind may blow the flames out",
    "wind": "the wind carries much of the heat past the pot",
    "beside the pot": "much of the heat rises beside the narrow pot",
    "no boil": "the water does not boil",
    "fire at the foot": "what spills feeds a fire round the foot",
    "spills": "liquid or froth spills",
    "flames past the pot": "flames end above the pot and make carbon monoxide",
    "flames on the pot": "the jets' flames stand crowded under the pot and make carbon monoxide",
    "flare": "the flames flare up high",
    "lift-off": "flames may lift off the jets",
    "light-back": "flames may strike back into the gallery",
    "pressure": "the pressure exceeds the stated limit",
    "fuel left": "fuel is left when the last flame goes out",
    "unburnt vapour": "vapour leaves without burning",
    "water left": "the jets go out once the alcohol has boiled off, on water",
    "boiled dry": "the pot boils dry",
    "rim melts": "the rim melts",
    "pot melts": "the pot melts",
    "flutter": "the flames go out and relight many times",
    "cut off": "flames still stand at the end of the run",
}
"""Verdicts that warn, as told of a share of the burns."""
GRAVE = (
    "fire at the foot", "spills", "pressure", "flare", "light-back", "pot melts", "rim melts", "smothered",
    "flames past the pot", "flames on the pot",
)  # fmt: skip
"""Verdicts that may hurt somebody, the gravest first: they are told before what only spoils a meal."""
RUNS_OFF = "primer runs off"  # follows from the charge alone, whatever the factors
OFTEN = 0.05  # share of the burns from which a grave one is told before a likelier one
UNSEEN = "Nothing to warn of in the burn as drawn; what the bands of the factors may bring was not looked at."


def warnings_of(burn: Burn, found: Prediction | str) -> tuple[str, ...]:
    """Sentences for a sheet: the verdicts of the burn as drawn, then what strikes only some, most first."""
    told = tuple(verdict.text for verdict in burn.verdicts)
    if isinstance(found, str):
        return told or (UNSEEN,)
    codes = {verdict.code for verdict in burn.verdicts}
    chances = {code: found.probability(code).value for code in WORDS if code not in codes}
    risks = [
        f"Not as drawn, but in {100.0 * chances[code]:.0f} % of the {found.n} burns, {WORDS[code]}."
        for code in sorted(chances, key=lambda code: -chances[code])
        if chances[code] >= LEAST
    ]
    return (*told, *risks) or (
        f"Nothing to warn of in the burn as drawn, nor in one in a hundred of the {found.n} burns.",
    )


def first_warning(burn: Burn, found: Prediction | str) -> tuple[str, str]:
    """What to watch for most, in few words, and how sure it is.

    A verdict of the burn as drawn, the gravest first; else a grave one that strikes one burn in twenty, or the
    likeliest.
    """
    order = (*GRAVE, *(code for code in WORDS if code not in GRAVE))
    drawn = {verdict.code for verdict in burn.verdicts}
    for code in (*order, RUNS_OFF):
        if code in drawn:
            more = len(drawn) - 1
            words = WORDS.get(code, "primer runs off the wick")
            return words, "in the burn as drawn" + (f", and {more} more, see below" if more else "")
    if isinstance(found, str):
        return "nothing as drawn", "what the bands of the factors may bring was not looked at"
    chances = {code: found.probability(code).value for code in order}
    often = [code for code in GRAVE if chances[code] >= OFTEN]
    code = often[0] if often else max(order, key=lambda code: chances[code])
    if chances[code] < LEAST:
        return "nothing known", f"neither as drawn, nor in one in a hundred of {found.n} burns"
    return WORDS[code], f"not as drawn, but in {100.0 * chances[code]:.0f}\u00a0% of {found.n} burns"
