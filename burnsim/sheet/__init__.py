"""Paper for the bench: what was understood of a design, and the sheet of a design with its prediction."""

from burnsim.sheet.findings import Findings as Findings
from burnsim.sheet.findings import find as find
from burnsim.sheet.understood import understood as understood
from burnsim.sheet.write import SUFFIXES as SUFFIXES
from burnsim.sheet.write import save_sheet as save_sheet
