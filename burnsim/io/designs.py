"""Design files to begin with: one of each kind, with a remark beside every field.

A line that begins with "#" and no blank is a setting that is left out; take the "#" away to use it.
"""

from burnsim.errors import unknown

HEAD = """\
# A design for burnsim. Quantities are texts with a unit: "45 mm", "1 3/4 in", "#60 drill", "37 ml", "1 1/2 fl oz",
# "20 degC", "68 degF". A number without a unit is SI. A line that begins with "#" and no blank is a setting that is
# left out: take the "#" away to use it.

name = "{name}"
#pressure_limit = "2000 Pa"      # gauge pressure above which to warn
"""

SITE = """
[site]
air_temperature = "20 degC"
#altitude = "0 m"
#humidity = "50 %"
#wind = "0 m/s"                  # as it blows outside a windscreen
#tilt = "0 deg"                  # of the stand
#ground = "wood"                 # below a flat floor; "nothing", "insulation", "wood", "soil", "stone"

#[screen]                        # a windscreen; take away all four "#" to use it
#height = "10 cm"                # of its top above the ground
#clearance = "15 mm"             # from the pot's side, all round
#open_share = "10 %"             # of the wall, cut open near the ground
"""

FACTORS = """
[factors]                        # uncertain inputs; 1 is the textbook value, see burnsim.BANDS
#flame_to_rim = 1.0
#entrainment = 1.0
#quench_flow = 1.0
"""

CHARGE = """
[charge]
fuel = "{fuel}"{pad}# or {{ basis = "volume", ethanol = "92 %", methanol = "3 %", water = "5 %" }}
volume = "{volume}"{room}# poured into the burner
{primer}#temperature = "20 degC"         # of fuel and burner at the start; left out: that of the air
"""

POT = """
[pot]                            # leave this table out to burn without a pot
diameter = "14 cm"
height = "9 cm"
water = "0.5 l"
water_temperature = "12 degC"    # left out: that of the air
lid = true
#metal = "aluminium"
#wall_thickness = "0.6 mm"
{rest}"""

DOUBLE_WALL = """
[burner]
kind = "double wall"             # gallery between two walls, open well in the middle
outer_diameter = "62 mm"
height = "45 mm"                 # floor to rim, inside
gallery_gap = "4.5 mm"           # clear width between the two walls
wall_thickness = "0.1 mm"        # drawn drink cups have about 0.1 mm
metal = "aluminium"
#rim_width = "1 mm"              # flat of the rim on which a pot rests
#emissivity = 0.9                # of painted or sooted cups; left out: bare metal

[burner.jets]
count = 24                       # all rows together
diameter = "1.0 mm"              # or "#60 drill"
height = "{jets}"                 # of the lowest row's centres above the floor
#rows = 1

[burner.feed_slots]              # openings at the foot of the inner wall
count = 4
width = "4 mm"
height = "2 mm"
"""

WICK = """
[burner.wick]                    # a band of absorbent round the outside foot, lit first
height = "12 mm"
thickness = "2 mm"
#porosity = "80 %"
"""

RELIEF = """
#[burner.relief]                 # notches at the rim that vent the well under a pot
#count = 3
#width = "3 mm"
#depth = "1.5 mm"
"""

SEALED = """
[burner]
kind = "sealed chamber"          # one chamber, its filler closed by a plug
outer_diameter = "70 mm"
height = "30 mm"                 # floor to lid, inside
wall_thickness = "0.3 mm"
metal = "brass"

[burner.jets]
count = 16                       # all rows together
diameter = "0.9 mm"
direction = "top"                # or "side", then give their height
ring_diameter = "50 mm"          # of the circle that they lie on
#rows = 1
"""

OPEN_CUP = """
[burner]
kind = "open cup"                # a small pool fire
outer_diameter = "65 mm"
height = "25 mm"
wall_thickness = "0.3 mm"
metal = "steel"
"""

BUMPS = """\
rest = "bumps"                   # "full ring" stands it flat on the rim, "stand" on a stand of its own
bumps = 3
gap = "1.5 mm"                   # bottom of the pot above the rim
"""

STAND = """\
rest = "stand"                   # on a stand of its own
gap = "{gap}"                    # bottom of the pot above the rim
"""


def _charge(fuel: str, volume: str, primer: str) -> str:
    line = f'primer = "{primer}"                  # poured onto the wick\n' if primer else ""
    blanks = " " * max(24 - len(fuel), 1), " " * max(22 - len(volume), 1)
    return CHARGE.format(fuel=fuel, volume=volume, primer=line, pad=blanks[0], room=blanks[1])


DESIGNS: dict[str, str] = {
    "double wall": DOUBLE_WALL.format(jets="38 mm")
    + RELIEF
    + WICK
    + _charge("methanol", "35 ml", "3 ml")
    + POT.format(rest=BUMPS),
    "open well": DOUBLE_WALL.format(jets="41 mm")  # lower jets heat more wall above them, which may melt
    + _charge("ethanol 95", "40 ml", "")
    + POT.format(rest=STAND.format(gap="30 mm")),
    "sealed chamber": SEALED
    + WICK
    + _charge("ethanol 95", "45 ml", "4 ml")
    + POT.format(rest=STAND.format(gap="25 mm")),
    "open cup": OPEN_CUP + _charge("methylated spirit", "40 ml", "") + POT.format(rest=STAND.format(gap="35 mm")),
}
"""Text of each kind between its head and its site."""


def design_text(kind: str, name: str = "my burner") -> str:
    """The text of a design file of a kind, a key of `DESIGNS`.

    >>> design_text("open cup", "garden").splitlines()[4]
    'name = "garden"'
    """
    if kind not in DESIGNS:
        raise unknown("kind", kind, DESIGNS, show=repr)
    plain = "".join(letter for letter in name if letter.isprintable() and letter not in '"\\') or "my burner"
    return HEAD.format(name=plain) + DESIGNS[kind] + SITE + FACTORS
