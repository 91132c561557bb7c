"""What goes on paper: a document as plain data, made from a plan or from a job's record."""
