from burnsim.studies.bench.analysis import BenchResult as BenchResult
from burnsim.studies.bench.analysis import analyse as analyse
from burnsim.studies.bench.builds import compare as compare
from burnsim.studies.bench.builds import repeats as repeats
from burnsim.studies.bench.design import setup_of as setup_of
from burnsim.studies.bench.formula import boiling_efficiency as boiling_efficiency
from burnsim.studies.bench.log import BenchLog as BenchLog
from burnsim.studies.bench.log import parse_bench_log as parse
from burnsim.studies.bench.log import read_bench_log as read
from burnsim.studies.bench.reference import reference_by_model as reference_by_model
from burnsim.studies.bench.synthetic import synthetic_log as synthetic_log

__all__ = [
    "BenchLog",
    "BenchResult",
    "analyse",
    "boiling_efficiency",
    "compare",
    "parse",
    "read",
    "reference_by_model",
    "repeats",
    "setup_of",
    "synthetic_log",
]
