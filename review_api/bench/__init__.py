"""The service's benchmarks: `probeside bench report`, `probeside bench page`."""
