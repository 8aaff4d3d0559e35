"""What a report says, as plain blocks of words and figures that know nothing of paper."""
