"""heapwright: an advisor for home composting.

Arrows between the packages point one way (see DEVELOPERS.md); this file imports nothing that the interpreter has not
loaded already, so that `heapwright --version` answers at once.
"""

import os

# Two libraries look at these when they are loaded; whoever has set them otherwise keeps that. OpenBLAS, under numpy,
# would set up a thread for each core, for products of matrices, of which we form none. pydantic would look through
# everything that is installed for plugins, of which we use none. Together that took a seventh of a start.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

__version__ = "0.1.0"
