"""Few Watts plans loudspeaker headroom and amplifier power for a listening room."""

__version__ = "0.1.0"
