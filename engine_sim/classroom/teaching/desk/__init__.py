"""The instructor's page: a desk with a panel for each thing to do, each of which is also a command."""
