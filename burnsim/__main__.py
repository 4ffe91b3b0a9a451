"""`python -m burnsim` is the command `burnsim`."""

import sys

from burnsim.cli import main

if __name__ == "__main__":
    sys.exit(main())
