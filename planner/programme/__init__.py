"""Music as statistics: spectrum and crest factor."""
