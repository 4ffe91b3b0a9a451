"""Solve a burn: the march through its phases and what came of it."""

from burnsim.solve.many import Failure, burn_many
from burnsim.solve.results.ledger import EnergyLedger, MassLedger
from burnsim.solve.results.milestones import Milestone, Milestones
from burnsim.solve.results.outcome import Outcome
from burnsim.solve.results.result import Burn
from burnsim.solve.results.series import SERIES
from burnsim.solve.results.verdicts import Verdict
from burnsim.solve.run import burn

__all__ = [
    "SERIES",
    "Burn",
    "EnergyLedger",
    "Failure",
    "MassLedger",
    "Milestone",
    "Milestones",
    "Outcome",
    "Verdict",
    "burn",
    "burn_many",
]
