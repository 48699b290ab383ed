"""The pieces the shop makes: one file a family, all alike."""
