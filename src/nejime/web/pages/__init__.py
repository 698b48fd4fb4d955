"""One module a page: it reads fields, does one act of the desk, and shows the answer."""
