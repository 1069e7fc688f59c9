"""Version of the simulator's behaviour: it rises whenever the same actions give other observations."""

SIMULATOR_VERSION = 7
