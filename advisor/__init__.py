"""heapwright: an advisor for home composting.

Arrows between the packages point one way (see DEVELOPERS.md); this file stays free of imports so that
`heapwright --version` answers at once.
"""

__version__ = "0.1.0"
