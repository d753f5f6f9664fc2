"""Steps from each released schema of the job store to the next."""
