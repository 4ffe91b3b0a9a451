"""Solve a burn: the march through its phases and the result."""

from burnsim.solve.result import Burn, EnergyLedger, MassLedger, Milestone, Milestones
from burnsim.solve.run import burn
from burnsim.solve.verdicts import Verdict

__all__ = ["Burn", "EnergyLedger", "MassLedger", "Milestone", "Milestones", "Verdict", "burn"]
