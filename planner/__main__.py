"""Makes ``python -m planner`` the same program as the command ``fewwatts``."""

import sys

from planner.cli import main

if __name__ == "__main__":
    sys.exit(main())
