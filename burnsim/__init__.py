"""Predict bloom, boil and burn-out of small spirit burners before cutting metal.

Every public name is found on first use, so that `import burnsim` stays light.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from burnsim.cautions import CAUTIONS as CAUTIONS
    from burnsim.errors import InputError as InputError
    from burnsim.errors import SolverError as SolverError
    from burnsim.errors import ValidityWarning as ValidityWarning
    from burnsim.files import load as load
    from burnsim.model.burner import Burner as Burner
    from burnsim.model.burner import FeedSlots as FeedSlots
    from burnsim.model.burner import Jets as Jets
    from burnsim.model.burner import Notches as Notches
    from burnsim.model.burner import Wick as Wick
    from burnsim.model.description import Charge as Charge
    from burnsim.model.description import Pot as Pot
    from burnsim.model.description import Setup as Setup
    from burnsim.model.description import Site as Site
    from burnsim.model.factors import BANDS as BANDS
    from burnsim.model.factors import Band as Band
    from burnsim.model.factors import Factors as Factors
    from burnsim.model.tables import setup_from_dict as setup_from_dict
    from burnsim.model.tables import setup_to_dict as setup_to_dict
    from burnsim.model.vary import vary as vary
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
    from burnsim.sheet import save_sheet as save_sheet
    from burnsim.solve import Burn as Burn
    from burnsim.solve import Failure as Failure
    from burnsim.solve import Milestone as Milestone
    from burnsim.solve import Outcome as Outcome
    from burnsim.solve import Verdict as Verdict
    from burnsim.solve import burn as burn
    from burnsim.solve import outcomes as outcomes
    from burnsim.studies.belief import Belief as Belief
    from burnsim.studies.belief import prior as prior
    from burnsim.studies.belief import with_factors as with_factors
    from burnsim.studies.bench_analysis import BenchResult as BenchResult
    from burnsim.studies.bench_analysis import analyse as analyse
    from burnsim.studies.bench_formula import boiling_efficiency as boiling_efficiency
    from burnsim.studies.bench_log import BenchLog as BenchLog
    from burnsim.studies.bench_log import parse_bench_log as parse_bench_log
    from burnsim.studies.bench_log import read_bench_log as read_bench_log
    from burnsim.studies.bench_synthetic import synthetic_log as synthetic_log
    from burnsim.studies.bench_text import bench_text as bench_text
    from burnsim.studies.bench_text import repeats_text as repeats_text
    from burnsim.studies.calibrate import Calibration as Calibration
    from burnsim.studies.calibrate import calibrate as calibrate
    from burnsim.studies.calibrate_sample import sample_factors as sample_factors
    from burnsim.studies.calibrate_text import calibration_text as calibration_text
    from burnsim.studies.charge import least_charge as least_charge
    from burnsim.studies.distil import boil_away as boil_away
    from burnsim.studies.distil import distillation as distillation
    from burnsim.studies.factors_file import load_factors as load_factors
    from burnsim.studies.factors_file import save_factors as save_factors
    from burnsim.studies.fill import Margin as Margin
    from burnsim.studies.fill import fill_limit as fill_limit
    from burnsim.studies.fuels import compare_fuels as compare_fuels
    from burnsim.studies.predict import Prediction as Prediction
    from burnsim.studies.predict import predict as predict
    from burnsim.studies.predict_text import prediction_text as prediction_text
    from burnsim.studies.predict_text import sensitivity_text as sensitivity_text
    from burnsim.studies.primer import primer_needed as primer_needed
    from burnsim.studies.relief import relief_needed as relief_needed
    from burnsim.studies.search import Search as Search
    from burnsim.studies.search import search_design as search_design
    from burnsim.studies.search_text import search_text as search_text
    from burnsim.studies.sensitivity import Sensitivity as Sensitivity
    from burnsim.studies.sensitivity import sensitivity as sensitivity
    from burnsim.studies.spill_map import spill_map as spill_map
    from burnsim.studies.spill_odds import spill_probability as spill_probability
    from burnsim.studies.spirit import on_paper as on_paper
    from burnsim.studies.start import start_map as start_map
    from burnsim.studies.sweep import has_verdict as has_verdict
    from burnsim.studies.sweep import sweep as sweep
    from burnsim.studies.sweep_files import load_sweep as load_sweep
    from burnsim.studies.sweep_files import save_sweep as save_sweep
    from burnsim.studies.sweep_text import best_designs as best_designs
    from burnsim.studies.water_limit import water_limits as water_limits
    from burnsim.substances.blend import READY as READY
    from burnsim.substances.blend import Blend as Blend
    from burnsim.substances.blend import blend as blend
    from burnsim.substances.bottle import bottled as bottled
    from burnsim.substances.bottle import strength as strength
    from burnsim.substances.metals import METALS as METALS
    from burnsim.template import save_template as save_template

__version__ = "0.1.0"

_ROOMS: dict[str, tuple[str, ...]] = {
    "burnsim.studies.bench_analysis": ("BenchResult", "analyse"),
    "burnsim.studies.bench_log": ("BenchLog", "parse_bench_log", "read_bench_log"),
    "burnsim.studies.bench_formula": ("boiling_efficiency",),
    "burnsim.studies.bench_synthetic": ("synthetic_log",),
    "burnsim.studies.bench_text": ("bench_text", "repeats_text"),
    "burnsim.studies.belief": ("Belief", "prior", "with_factors"),
    "burnsim.studies.calibrate": ("Calibration", "calibrate"),
    "burnsim.studies.calibrate_sample": ("sample_factors",),
    "burnsim.studies.calibrate_text": ("calibration_text",),
    "burnsim.studies.factors_file": ("load_factors", "save_factors"),
    "burnsim.studies.predict": ("Prediction", "predict"),
    "burnsim.studies.predict_text": ("prediction_text", "sensitivity_text"),
    "burnsim.studies.search": ("Search", "search_design"),
    "burnsim.studies.search_text": ("search_text",),
    "burnsim.studies.sensitivity": ("Sensitivity", "sensitivity"),
    "burnsim.cautions": ("CAUTIONS",),
    "burnsim.errors": ("InputError", "SolverError", "ValidityWarning"),
    "burnsim.files": ("load",),
    "burnsim.model.burner": ("Burner", "FeedSlots", "Jets", "Notches", "Wick"),
    "burnsim.model.description": ("Charge", "Pot", "Setup", "Site"),
    "burnsim.model.factors": ("BANDS", "Band", "Factors"),
    "burnsim.model.tables": ("setup_from_dict", "setup_to_dict"),
    "burnsim.model.vary": ("vary",),
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
    "burnsim.template": ("save_template",),
    "burnsim.sheet": ("save_sheet",),
    "burnsim.solve": ("Burn", "Failure", "Milestone", "Outcome", "Verdict", "burn", "outcomes"),
    "burnsim.studies.charge": ("least_charge",),
    "burnsim.studies.distil": ("boil_away", "distillation"),
    "burnsim.studies.fill": ("Margin", "fill_limit"),
    "burnsim.studies.fuels": ("compare_fuels",),
    "burnsim.studies.primer": ("primer_needed",),
    "burnsim.studies.spirit": ("on_paper",),
    "burnsim.studies.relief": ("relief_needed",),
    "burnsim.studies.spill_map": ("spill_map",),
    "burnsim.studies.spill_odds": ("spill_probability",),
    "burnsim.studies.start": ("start_map",),
    "burnsim.studies.sweep": ("has_verdict", "sweep"),
    "burnsim.studies.sweep_files": ("load_sweep", "save_sweep"),
    "burnsim.studies.sweep_text": ("best_designs",),
    "burnsim.studies.water_limit": ("water_limits",),
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
