"""The helpers beside these tests are found wherever pytest is started."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
