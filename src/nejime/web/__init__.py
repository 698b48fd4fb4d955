"""The pages, in a browser on the same machine: what a teacher sees, asks and keeps."""
