"""Charts for paper: what each shows is plain data, and one painter draws them all."""
