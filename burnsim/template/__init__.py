"""The drilling template: true-to-scale paper to wrap round the cups and to lay on their lids, as PDF, SVG or DXF."""

from burnsim.paper import PAPERS as PAPERS
from burnsim.template.pieces import template_pieces as template_pieces
from burnsim.template.write import SUFFIXES as SUFFIXES
from burnsim.template.write import save_template as save_template
