"""The plan: a page to build from, made from the design alone, without a burn."""

from burnsim.report.plan.write import SUFFIXES as SUFFIXES
from burnsim.report.plan.write import save_plan as save_plan
