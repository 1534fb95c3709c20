"""The report: a decided Record as PDF, HTML and JSON."""

from review_api.report.render import Rendered, render, render_amendment

__all__ = ["Rendered", "render", "render_amendment"]
