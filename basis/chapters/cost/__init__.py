"""Life-cycle cost: ways to build or run the plant compared over the life of the project."""
