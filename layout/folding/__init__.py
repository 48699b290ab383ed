"""The metal: creases, corners, legs, patterns and their proof."""
