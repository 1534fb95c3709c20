"""The HTTP side of the desk: what comes in, what goes out, and the routes between. See docs/api.md."""
