"""What lint finds, what it leaves alone and how it says so."""
