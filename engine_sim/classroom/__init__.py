"""The classroom: the only place that knows nbgrader and notebooks. Import its modules by name; this one stays light."""
