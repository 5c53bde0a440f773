"""The command line: python -m service."""

import sys

from service.cli import main

sys.exit(main())
