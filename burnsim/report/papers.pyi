from burnsim.report.sheet import save_sheet as save_sheet
from burnsim.report.sheet.card import save_pour_card as save_pour_card
from burnsim.report.sheet.plan import save_plan as save_plan
from burnsim.report.template import save_template as save_template
