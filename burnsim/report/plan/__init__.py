"""The plan: a page to build from, made from the design alone, without a burn."""

from burnsim.report.plan.content import save_plan as save_plan
from burnsim.report.sheet.write import SUFFIXES as SUFFIXES
