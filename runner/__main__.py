"""`python -m runner` is the command `changeover`."""

import sys

from runner.cli.main import main

sys.exit(main())
