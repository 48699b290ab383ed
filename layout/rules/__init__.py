"""Can it be made, will it please: findings with their sources."""
