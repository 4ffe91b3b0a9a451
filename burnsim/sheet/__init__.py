"""Paper for the bench: what was understood of a design, and the sheet of a design with its prediction."""

from burnsim.sheet.understood import understood as understood
