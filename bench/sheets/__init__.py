"""Pages as data and their sentences: what panes, printed sheets and the headless face all say alike."""
