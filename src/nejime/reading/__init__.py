"""What people wrote, in files and fields, made into values; or every fault of it at once."""
