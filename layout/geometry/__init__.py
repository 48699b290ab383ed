"""The plane and space: points, polygons, moves. Not one word of the trade."""
