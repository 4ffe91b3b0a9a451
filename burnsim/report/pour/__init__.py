"""A pour card in words, as plain values, and as a page to hang beside the burner."""

from burnsim.report.pour.words import pour_dict as pour_dict
from burnsim.report.pour.words import pour_text as pour_text
from burnsim.report.pour.write import SUFFIXES as SUFFIXES
from burnsim.report.pour.write import save_pour_card as save_pour_card
