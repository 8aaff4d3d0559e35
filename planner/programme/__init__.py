"""Music as statistics: spectrum and crest factor, of typical programme and of recordings."""
