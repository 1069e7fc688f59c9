"""Layouts as data: which parts a boat has and how they are joined."""
