"""A recording for the programme: imported, shown over time against the clip level, written to listen to."""

from planner.desktop.recording.importing import SoundImport, import_sound
from planner.desktop.recording.panel import RecordingPanel

__all__ = ["RecordingPanel", "SoundImport", "import_sound"]
