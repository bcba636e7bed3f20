"""Reading: from what was heard to what was said of the swimmer."""
