from burnsim.studies.compare.comparison import DesignComparison as DesignComparison
from burnsim.studies.compare.comparison import compare as compare
