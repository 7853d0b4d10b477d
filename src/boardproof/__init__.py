"""Board lessons on direct-current circuits, proved from the circuit itself."""

__all__ = ["__version__"]

__version__ = "0.1.0"
