"""`python -m advisor` is the same as `heapwright`."""

import sys

from advisor.cli import main

sys.exit(main())
