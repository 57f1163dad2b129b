"""What is said of all jobs is held against jobs that are tried."""
