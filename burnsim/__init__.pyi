from burnsim import closures as closures
from burnsim import plots as plots
from burnsim.errors import BurnsimError as BurnsimError
from burnsim.errors import InputError as InputError
from burnsim.errors import SolverError as SolverError
from burnsim.errors import ValidityWarning as ValidityWarning
from burnsim.model.description.burner import Burner as Burner
from burnsim.model.description.conditions import Charge as Charge
from burnsim.model.description.conditions import Pot as Pot
from burnsim.model.description.conditions import Site as Site
from burnsim.model.description.factors import BANDS as BANDS
from burnsim.model.description.factors import Factors as Factors
from burnsim.model.description.files import load as load
from burnsim.model.description.parts import FeedSlots as FeedSlots
from burnsim.model.description.parts import Jets as Jets
from burnsim.model.description.parts import Notches as Notches
from burnsim.model.description.parts import Wick as Wick
from burnsim.model.description.screen import Screen as Screen
from burnsim.model.description.setup import Setup as Setup
from burnsim.model.description.vary import vary as vary
from burnsim.report import papers as papers
from burnsim.report.cautions import CAUTIONS as CAUTIONS
from burnsim.solve import SERIES as SERIES
from burnsim.solve import Burn as Burn
from burnsim.solve import Failure as Failure
from burnsim.solve import Milestone as Milestone
from burnsim.solve import Outcome as Outcome
from burnsim.solve import Verdict as Verdict
from burnsim.solve import burn as burn
from burnsim.solve import burn_many as burn_many
from burnsim.studies import bench as bench
from burnsim.studies import calibrate as calibration
from burnsim.studies import compare as comparisons
from burnsim.studies import fill as fill
from burnsim.studies import fuels as fuels
from burnsim.studies import levers as levers
from burnsim.studies import predict as predictions
from burnsim.studies import search as searches
from burnsim.studies import start as starts
from burnsim.studies import sweep as sweeps
from burnsim.studies.calibrate.fit import calibrate as calibrate
from burnsim.studies.compare.comparison import compare as compare
from burnsim.studies.fill.limit import find_fill_limit as find_fill_limit
from burnsim.studies.fill.relief import find_relief as find_relief
from burnsim.studies.fuels.comparison import compare_fuels as compare_fuels
from burnsim.studies.levers.levers import find_levers as find_levers
from burnsim.studies.predict.prediction import predict as predict
from burnsim.studies.predict.sobol import analyse_sensitivity as analyse_sensitivity
from burnsim.studies.search.run import search as search
from burnsim.studies.start.grid import map_starts as map_starts
from burnsim.studies.start.primer import find_primer as find_primer
from burnsim.studies.sweep.run import sweep as sweep
from burnsim.substances import materials as materials
from burnsim.substances.blend import Blend as Blend
from burnsim.substances.blend import blend as blend

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
