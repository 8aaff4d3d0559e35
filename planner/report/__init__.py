"""From outcome to words, pages and tables."""
