"""Cases for a general flow solver (fireFoam of OpenFOAM 1912): writes them, runs them, and measures what came out.

Only for making rows of cases.toml: the library and its tests need no flow solver.

PYTHONPATH=benchmarks python -m resolved.generator write FOLDER --gap 25 --jets 500
PYTHONPATH=benchmarks python -m resolved.generator run FOLDER
PYTHONPATH=benchmarks python -m resolved.generator measure FOLDER

The solver must be on the path, with WM_PROJECT_DIR at its folder of data. A run goes on where it ended if the folder
holds more than the first instant; `run FOLDER --start OTHER` begins where a run on another mesh ended. A ring of top
jets is solved in three dimensions, for which `inverse.cpp` is compiled with g++.
"""
