"""The owner's books: questions to closed jobs, each in a set number of queries."""
