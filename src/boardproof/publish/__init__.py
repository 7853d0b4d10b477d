"""Everything that leaves the house: pictures, pages, prints; each output format is one module."""
