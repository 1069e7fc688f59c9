"""The report on a class, counted from kept facts, and each learner's record of assessment."""
