"""Pages: paper, type, and the blocks of a report set on them."""
