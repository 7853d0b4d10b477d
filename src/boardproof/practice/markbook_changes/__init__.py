"""Changes of the markbook's tables, in order; run by `practice.markbook` whenever a book is opened."""
