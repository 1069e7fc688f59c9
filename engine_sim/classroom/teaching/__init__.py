"""The instructor's side: plain functions that hand out, collect, give back and report. Import its modules by name."""
