"""Solve a burn: the march through its phases and what came of it."""

from burnsim.solve.ledger import EnergyLedger, MassLedger
from burnsim.solve.many import Failure, outcomes
from burnsim.solve.outcome import Milestone, Milestones, Outcome
from burnsim.solve.result import Burn
from burnsim.solve.run import burn
from burnsim.solve.verdicts import Verdict

__all__ = [
    "Burn",
    "EnergyLedger",
    "Failure",
    "MassLedger",
    "Milestone",
    "Milestones",
    "Outcome",
    "Verdict",
    "burn",
    "outcomes",
]
