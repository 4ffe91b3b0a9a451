"""The drilling template: true-to-scale paper to wrap round the cups and to lay on their lids, as PDF, SVG or DXF."""

from burnsim.report.template.pieces import template_pieces as template_pieces
from burnsim.report.template.write import save_template as save_template
