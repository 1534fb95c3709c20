"""What the inspector decides: store, jobs, page, report, seal."""
