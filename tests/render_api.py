"""Render the interface as pages of HTML: python -W error tests/render_api.py FOLDER.

Every name that is loaded on first use is asked for once, since a tool that reads modules does not ask.
"""

import sys
from pathlib import Path
from types import ModuleType

import burnsim


def load_all() -> None:
    """Load every name of the package and of its namespaces."""
    namespaces = [getattr(burnsim, name) for name in burnsim.__all__]
    for module in (burnsim, *(one for one in namespaces if isinstance(one, ModuleType))):
        for name in module.__all__:
            getattr(module, name)


if __name__ == "__main__":
    import pdoc  # of the extra "dev": whoever only runs the tests does without

    load_all()
    pdoc.render.configure(math=True, docformat="numpy")
    pdoc.pdoc("burnsim", output_directory=Path(sys.argv[1]))
