"""How well the reading does on annotated narrations."""
