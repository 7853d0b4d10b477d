"""Run the command line as ``python -m boardproof``."""

import sys

from boardproof.cli import main

__all__: list[str] = []

if __name__ == "__main__":
    sys.exit(main())
