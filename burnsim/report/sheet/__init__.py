"""Paper for the bench: what was understood of a design, and the sheet of a design with its prediction."""

from burnsim.report.sheet.findings import Findings as Findings
from burnsim.report.sheet.findings import find as find
from burnsim.report.sheet.understood import understood as understood
from burnsim.report.sheet.write import save_sheet as save_sheet
