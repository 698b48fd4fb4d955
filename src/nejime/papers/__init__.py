"""What each paper says, as plain data, and the printing of it."""
