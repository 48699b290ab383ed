"""Ink only: laid pieces to strokes on paper. Takes no decision about the metal."""
