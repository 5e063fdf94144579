"""The full-screen face: panes that draw a river and answer with edits."""
