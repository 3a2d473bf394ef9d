"""Run the commands: ``python -m briefgen``."""

import sys

from briefgen.cli import main

sys.exit(main())
