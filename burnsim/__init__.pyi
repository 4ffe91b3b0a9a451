from burnsim import closures, plots
from burnsim.errors import BurnsimError, InputError, SolverError, ValidityWarning
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.factors import BANDS, Factors
from burnsim.model.description.files import load
from burnsim.model.description.parts import FeedSlots, Jets, Notches, Wick
from burnsim.model.description.screen import Screen
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.report import papers
from burnsim.report.cautions import CAUTIONS
from burnsim.solve import SERIES, Burn, Failure, Milestone, Outcome, Verdict, burn, burn_many
from burnsim.studies import bench, fill, fuels, levers
from burnsim.studies import calibrate as calibration
from burnsim.studies import compare as comparisons
from burnsim.studies import predict as predictions
from burnsim.studies import search as searches
from burnsim.studies import start as starts
from burnsim.studies import sweep as sweeps
from burnsim.studies.calibrate.fit import calibrate
from burnsim.studies.compare.comparison import compare
from burnsim.studies.fill.limit import find_fill_limit
from burnsim.studies.fill.relief import find_relief
from burnsim.studies.fuels.comparison import compare_fuels
from burnsim.studies.levers.levers import find_levers
from burnsim.studies.predict.prediction import predict
from burnsim.studies.predict.sobol import analyse_sensitivity
from burnsim.studies.search.run import search
from burnsim.studies.start.grid import map_starts
from burnsim.studies.start.primer import find_primer
from burnsim.studies.sweep.run import sweep
from burnsim.substances import materials
from burnsim.substances.blend import Blend, blend

__all__ = [
    "BANDS",
    "CAUTIONS",
    "SERIES",
    "Blend",
    "Burn",
    "Burner",
    "BurnsimError",
    "Charge",
    "Factors",
    "Failure",
    "FeedSlots",
    "InputError",
    "Jets",
    "Milestone",
    "Notches",
    "Outcome",
    "Pot",
    "Screen",
    "Setup",
    "Site",
    "SolverError",
    "ValidityWarning",
    "Verdict",
    "Wick",
    "analyse_sensitivity",
    "bench",
    "blend",
    "burn",
    "burn_many",
    "calibrate",
    "calibration",
    "closures",
    "compare",
    "compare_fuels",
    "comparisons",
    "fill",
    "find_fill_limit",
    "find_levers",
    "find_primer",
    "find_relief",
    "fuels",
    "levers",
    "load",
    "map_starts",
    "materials",
    "papers",
    "plots",
    "predict",
    "predictions",
    "search",
    "searches",
    "starts",
    "sweep",
    "sweeps",
    "vary",
]

__version__: str
