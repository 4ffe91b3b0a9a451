from burnsim.studies.calibrate.factors_file import load_factors as load
from burnsim.studies.calibrate.factors_file import save_factors as save
from burnsim.studies.calibrate.fit import Calibration as Calibration
from burnsim.studies.calibrate.fit import calibrate as calibrate
from burnsim.studies.calibrate.next_burn import NextBurns as NextBurns
from burnsim.studies.calibrate.next_burn import next_burns as next_burns
from burnsim.studies.calibrate.posterior import Posterior as Posterior
from burnsim.studies.calibrate.posterior import prior as prior
from burnsim.studies.calibrate.posterior import with_factors as with_factors
from burnsim.studies.calibrate.walkers import sample_factors as sample

__all__ = [
    "Calibration",
    "NextBurns",
    "Posterior",
    "calibrate",
    "load",
    "next_burns",
    "prior",
    "sample",
    "save",
    "with_factors",
]
