"""brightrun's edge: workbooks in, plans and papers out, the command line."""
