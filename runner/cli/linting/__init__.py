"""What `changeover lint` does around the linter: which files, what is known from before, several at once. Invariant: findings are the same with and without it."""
