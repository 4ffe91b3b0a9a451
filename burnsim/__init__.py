"""Predict bloom, boil and burn-out of small spirit burners before cutting metal.

Every public name is found on first use, so that `import burnsim` stays light.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from burnsim.errors import InputError as InputError
    from burnsim.errors import SolverError as SolverError
    from burnsim.errors import ValidityWarning as ValidityWarning
    from burnsim.model.description.burner import Burner as Burner
    from burnsim.model.description.conditions import Charge as Charge
    from burnsim.model.description.conditions import Pot as Pot
    from burnsim.model.description.conditions import Site as Site
    from burnsim.model.description.factors import BANDS as BANDS
    from burnsim.model.description.factors import Band as Band
    from burnsim.model.description.factors import Factors as Factors
    from burnsim.model.description.files import load as load
    from burnsim.model.description.parts import FeedSlots as FeedSlots
    from burnsim.model.description.parts import Jets as Jets
    from burnsim.model.description.parts import Notches as Notches
    from burnsim.model.description.parts import Wick as Wick
    from burnsim.model.description.setup import Setup as Setup
    from burnsim.model.description.tables import setup_from_dict as setup_from_dict
    from burnsim.model.description.tables import setup_to_dict as setup_to_dict
    from burnsim.model.description.vary import vary as vary
    from burnsim.plots import plot_bands as plot_bands
    from burnsim.plots import plot_bench as plot_bench
    from burnsim.plots import plot_burn as plot_burn
    from burnsim.plots import plot_calibration as plot_calibration
    from burnsim.plots import plot_distillation as plot_distillation
    from burnsim.plots import plot_fill_levels as plot_fill_levels
    from burnsim.plots import plot_flows as plot_flows
    from burnsim.plots import plot_fuels as plot_fuels
    from burnsim.plots import plot_head as plot_head
    from burnsim.plots import plot_intervals as plot_intervals
    from burnsim.plots import plot_ledger as plot_ledger
    from burnsim.plots import plot_levels as plot_levels
    from burnsim.plots import plot_map as plot_map
    from burnsim.plots import plot_panels as plot_panels
    from burnsim.plots import plot_prediction as plot_prediction
    from burnsim.plots import plot_residuals as plot_residuals
    from burnsim.plots import plot_search as plot_search
    from burnsim.plots import plot_section as plot_section
    from burnsim.plots import plot_spill_map as plot_spill_map
    from burnsim.plots import plot_start_map as plot_start_map
    from burnsim.plots import plot_sweep as plot_sweep
    from burnsim.report.bench import bench_text as bench_text
    from burnsim.report.bench import repeats_text as repeats_text
    from burnsim.report.calibrate import calibration_text as calibration_text
    from burnsim.report.cautions import CAUTIONS as CAUTIONS
    from burnsim.report.predict import prediction_text as prediction_text
    from burnsim.report.predict import sensitivity_text as sensitivity_text
    from burnsim.report.search import search_text as search_text
    from burnsim.report.sheet import save_sheet as save_sheet
    from burnsim.report.template import save_template as save_template
    from burnsim.solve import Burn as Burn
    from burnsim.solve import Failure as Failure
    from burnsim.solve import Milestone as Milestone
    from burnsim.solve import Outcome as Outcome
    from burnsim.solve import Verdict as Verdict
    from burnsim.solve import burn as burn
    from burnsim.solve import outcomes as outcomes
    from burnsim.studies.bench.analysis import BenchResult as BenchResult
    from burnsim.studies.bench.analysis import analyse as analyse
    from burnsim.studies.bench.formula import boiling_efficiency as boiling_efficiency
    from burnsim.studies.bench.log import BenchLog as BenchLog
    from burnsim.studies.bench.log import parse_bench_log as parse_bench_log
    from burnsim.studies.bench.log import read_bench_log as read_bench_log
    from burnsim.studies.bench.synthetic import synthetic_log as synthetic_log
    from burnsim.studies.calibrate.factors_file import load_factors as load_factors
    from burnsim.studies.calibrate.factors_file import save_factors as save_factors
    from burnsim.studies.calibrate.fit import Calibration as Calibration
    from burnsim.studies.calibrate.fit import calibrate as calibrate
    from burnsim.studies.calibrate.posterior import Belief as Belief
    from burnsim.studies.calibrate.posterior import prior as prior
    from burnsim.studies.calibrate.posterior import with_factors as with_factors
    from burnsim.studies.calibrate.sample import sample_factors as sample_factors
    from burnsim.studies.fill.limit import fill_limit as fill_limit
    from burnsim.studies.fill.record import Margin as Margin
    from burnsim.studies.fill.relief import relief_needed as relief_needed
    from burnsim.studies.fill.spill_map import spill_map as spill_map
    from burnsim.studies.fill.spill_odds import spill_probability as spill_probability
    from burnsim.studies.fuels.charge import least_charge as least_charge
    from burnsim.studies.fuels.comparison import compare_fuels as compare_fuels
    from burnsim.studies.fuels.distil import boil_away as boil_away
    from burnsim.studies.fuels.distil import distillation as distillation
    from burnsim.studies.fuels.spirit import on_paper as on_paper
    from burnsim.studies.fuels.water_limit import water_limits as water_limits
    from burnsim.studies.predict.prediction import Prediction as Prediction
    from burnsim.studies.predict.prediction import predict as predict
    from burnsim.studies.predict.sensitivity import Sensitivity as Sensitivity
    from burnsim.studies.predict.sensitivity import sensitivity as sensitivity
    from burnsim.studies.search.run import Search as Search
    from burnsim.studies.search.run import search_design as search_design
    from burnsim.studies.start.grid import start_map as start_map
    from burnsim.studies.start.primer import primer_needed as primer_needed
    from burnsim.studies.sweep.best import best_designs as best_designs
    from burnsim.studies.sweep.files import load_sweep as load_sweep
    from burnsim.studies.sweep.files import save_sweep as save_sweep
    from burnsim.studies.sweep.run import has_verdict as has_verdict
    from burnsim.studies.sweep.run import sweep as sweep
    from burnsim.substances.blend import READY as READY
    from burnsim.substances.blend import Blend as Blend
    from burnsim.substances.blend import blend as blend
    from burnsim.substances.bottle import bottled as bottled
    from burnsim.substances.bottle import strength as strength
    from burnsim.substances.metals import METALS as METALS

__version__ = "0.1.0"

_ROOMS: dict[str, tuple[str, ...]] = {
    "burnsim.studies.bench.analysis": ("BenchResult", "analyse"),
    "burnsim.studies.bench.log": ("BenchLog", "parse_bench_log", "read_bench_log"),
    "burnsim.studies.bench.formula": ("boiling_efficiency",),
    "burnsim.studies.bench.synthetic": ("synthetic_log",),
    "burnsim.report.bench": ("bench_text", "repeats_text"),
    "burnsim.studies.calibrate.posterior": ("Belief", "prior", "with_factors"),
    "burnsim.studies.calibrate.fit": ("Calibration", "calibrate"),
    "burnsim.studies.calibrate.sample": ("sample_factors",),
    "burnsim.report.calibrate": ("calibration_text",),
    "burnsim.studies.calibrate.factors_file": ("load_factors", "save_factors"),
    "burnsim.studies.predict.prediction": ("Prediction", "predict"),
    "burnsim.report.predict": ("prediction_text", "sensitivity_text"),
    "burnsim.studies.search.run": ("Search", "search_design"),
    "burnsim.report.search": ("search_text",),
    "burnsim.studies.predict.sensitivity": ("Sensitivity", "sensitivity"),
    "burnsim.report.cautions": ("CAUTIONS",),
    "burnsim.errors": ("InputError", "SolverError", "ValidityWarning"),
    "burnsim.model.description.files": ("load",),
    "burnsim.model.description.burner": ("Burner",),
    "burnsim.model.description.parts": ("FeedSlots", "Jets", "Notches", "Wick"),
    "burnsim.model.description.setup": ("Setup",),
    "burnsim.model.description.conditions": ("Charge", "Pot", "Site"),
    "burnsim.model.description.factors": ("BANDS", "Band", "Factors"),
    "burnsim.model.description.tables": ("setup_from_dict", "setup_to_dict"),
    "burnsim.model.description.vary": ("vary",),
    "burnsim.plots": (
        "plot_bands",
        "plot_bench",
        "plot_burn",
        "plot_calibration",
        "plot_distillation",
        "plot_fill_levels",
        "plot_flows",
        "plot_fuels",
        "plot_head",
        "plot_intervals",
        "plot_ledger",
        "plot_levels",
        "plot_map",
        "plot_panels",
        "plot_prediction",
        "plot_residuals",
        "plot_search",
        "plot_section",
        "plot_spill_map",
        "plot_start_map",
        "plot_sweep",
    ),
    "burnsim.report.template": ("save_template",),
    "burnsim.report.sheet": ("save_sheet",),
    "burnsim.solve": ("Burn", "Failure", "Milestone", "Outcome", "Verdict", "burn", "outcomes"),
    "burnsim.studies.fuels.charge": ("least_charge",),
    "burnsim.studies.fuels.distil": ("boil_away", "distillation"),
    "burnsim.studies.fill.limit": ("fill_limit",),
    "burnsim.studies.fill.record": ("Margin",),
    "burnsim.studies.fuels.comparison": ("compare_fuels",),
    "burnsim.studies.start.primer": ("primer_needed",),
    "burnsim.studies.fuels.spirit": ("on_paper",),
    "burnsim.studies.fill.relief": ("relief_needed",),
    "burnsim.studies.fill.spill_map": ("spill_map",),
    "burnsim.studies.fill.spill_odds": ("spill_probability",),
    "burnsim.studies.start.grid": ("start_map",),
    "burnsim.studies.sweep.run": ("has_verdict", "sweep"),
    "burnsim.studies.sweep.files": ("load_sweep", "save_sweep"),
    "burnsim.studies.sweep.best": ("best_designs",),
    "burnsim.studies.fuels.water_limit": ("water_limits",),
    "burnsim.substances.blend": ("READY", "Blend", "blend"),
    "burnsim.substances.bottle": ("bottled", "strength"),
    "burnsim.substances.metals": ("METALS",),
}
_HOME = {name: room for room, names in _ROOMS.items() for name in names}

__all__ = ["__version__", *sorted(_HOME)]  # noqa: PLE0604  (names from the table above)


def __getattr__(name: str) -> object:
    """Find a public name in the room that it lives in."""
    if name not in _HOME:
        raise AttributeError(f"module 'burnsim' has no attribute {name!r}")
    value: object = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    """List the public names."""
    return sorted({*globals(), *_HOME})
