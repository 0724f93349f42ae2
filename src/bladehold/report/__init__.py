"""Results as people meet them: terminal, plain data, charts, files."""
