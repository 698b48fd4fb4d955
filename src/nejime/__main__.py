"""`python -m nejime` is the command line."""

import sys

from nejime.cli import main

sys.exit(main())
