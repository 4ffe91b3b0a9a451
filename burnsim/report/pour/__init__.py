"""A pour card in words, as plain values, and as a page to hang beside the burner."""

from burnsim.report.pour.page import save_pour_card as save_pour_card
from burnsim.report.pour.words import pour_dict as pour_dict
from burnsim.report.pour.words import pour_lines as pour_lines
from burnsim.report.sheet.write import SUFFIXES as SUFFIXES
