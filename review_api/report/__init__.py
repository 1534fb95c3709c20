"""The report: a decided Record as PDF, HTML and JSON."""

from review_api.report.render import Rendered, render

__all__ = ["Rendered", "render"]
