"""The app without a screen: one module a verb, each calling the very functions that the panes call."""
