"""What command line and server share: read a job, run it, write all of it."""
