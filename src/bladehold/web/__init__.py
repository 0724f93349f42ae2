"""The workbench in the browser: sheets of a folder edited, looked at and reported, on this machine alone."""
