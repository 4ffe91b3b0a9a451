"""Predict bloom, boil and burn-out of small spirit burners before cutting metal.

A *setup* says what burns: a burner, its charge, a pot, a site, and factors for what handbooks do not settle. A *burn*
is one simulated run of it, from the match to the last flame. Studies burn many times and answer a question.

>>> import burnsim
>>> sorted(burnsim.bench.__all__)[:3]
['BenchLog', 'BenchResult', 'analyse']

**Describe**: `load` a design file, or build a `Setup` of `Burner`, `Charge`, `Pot`, `Screen`, `Site` and `Factors`;
`vary` one.

**Burn**: `burn(setup)` gives a `Burn`; `burn_many(setups)` burns many and keeps of each what came of it.

**Ask**: `find_fill_limit`, `find_relief`, `map_starts`, `find_primer`, `compare_fuels`, `sweep`, `search`, `predict`,
`analyse_sensitivity`, `calibrate`, `compare`, `find_levers`.

Every result answers `summary()` in words, `to_dict()` in plain values, and `plot()` with the picture that tells most.

**Namespaces**: `plots` (all pictures), `papers` (pages for the bench), `bench` (logs of real burns), `calibration`
(what logs teach), `fill`, `fuels`, `starts`, `sweeps`, `predictions`, `searches`, `comparisons`, `levers` (each study
with its parts), `materials` (metals, and substances of one's own) and `closures` (the physical laws).

Symbols and terms
-----------------
Inside the package all numbers are SI. Gauge pressures are counted from that of the air.

| symbol | unit | meaning |
| --- | --- | --- |
| T | K | temperature |
| p, dp | Pa | pressure; gauge pressure or difference |
| n, x, y | mol, -, - | amount; mole fraction in liquid and in vapour |
| m, rho | kg, kg/m3 | mass; density |
| h, c_p | J/kg or J/mol | enthalpy; heat capacity |
| h_fg, LHV | J/kg | heat of vaporisation; lower heating value |
| q, Q | W/m2, W | heat flux; heat flow |
| k, mu, sigma | W/m/K, Pa s, N/m | thermal conductivity; viscosity; surface tension |
| u, d, L | m/s, m, m | speed; diameter; length |
| B | - | Spalding's transfer number |
| Re, Gr, Ra, Nu, Pr | - | Reynolds, Grashof, Rayleigh, Nusselt and Prandtl number |
| K, Cd | - | loss coefficient; discharge coefficient, K = 1/Cd^2 |

| term | meaning |
| --- | --- |
| well | open centre of a double-wall burner |
| gallery | annular chamber between inner and outer wall, from which the jets open |
| feed slots | openings at the foot of the inner wall, through which liquid passes between well and gallery |
| jets | small holes that carry the flames |
| collar | ring of the outer wall just below side jets, where the foot of their flames heats it most |
| relief notches | notches at the rim that vent the well under a pot |
| primer | spirit on the wick, lit first |
| bloom | first sustained flame on the jets |
| boil, burn-out | the water boils; the last flame goes out |
| spill | liquid or froth leaves through a jet or over the rim |
| quench | lit jets go out because the rim loses more heat than it gains |
| froth, swell | liquid with the bubbles that boiling makes in it; the height they add |
"""

from burnsim.lazy import attach

__version__ = "0.2.0"

__getattr__, __dir__, __all__ = attach(__name__, __file__)
