from burnsim.studies.bench.analysis import BenchResult, analyse
from burnsim.studies.bench.builds import compare, pool_repeats
from burnsim.studies.bench.design import apply_conditions, predict_reference
from burnsim.studies.bench.formula import compute_efficiency
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.bench.log import parse_bench_log as parse
from burnsim.studies.bench.log import read_bench_log as read
from burnsim.studies.bench.synthetic import synthesise_log

__all__ = [
    "BenchLog",
    "BenchResult",
    "analyse",
    "apply_conditions",
    "compare",
    "compute_efficiency",
    "parse",
    "pool_repeats",
    "predict_reference",
    "read",
    "synthesise_log",
]
